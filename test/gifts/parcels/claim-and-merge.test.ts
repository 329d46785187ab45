import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { makeCampaign } from '#test/make/campaign'
import { makeDonor, makePart } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const volunteer = () => stage.as('volunteer')
const maker = () => stage.as('maker')
const history = async (donorId: string) =>
  (await (await volunteer()).outcome.donorPage({ donorId })).changes.map(({ what, was, now }) => `${what}: ${was} → ${now}`)

/** A parcel of six displays from nobody known. */
async function fromNobody(quantity = 6) {
  const part = await makePart(stage)
  const kept = await (await volunteer()).parcels.log({ key: 'from-nobody-1', fromNobody: true, lines: [{ partId: part.id, quantity }] })
  const parcel = await (await volunteer()).parcels.one({ parcelId: kept.parcelId })
  return { part, parcel }
}

describe('a parcel from nobody known', () => {
  test('is logged all the same: its parts are a batch, nobody is credited, nobody is to be thanked', async () => {
    const { parcel, part } = await fromNobody()
    expect(parcel).toMatchObject({ isUnclaimed: true, donorName: 'Sender not known (2027-03-13, 12:00)', likely: [] })
    expect((await (await volunteer()).buildable.part({ partId: part.id })).batches).toMatchObject([{ inHand: 6 }])
    expect(await (await volunteer()).outcome.thanksDue()).toEqual([])
  })

  test('whoever promised such parts may have sent it, in that very number first', async () => {
    const { part, parcel } = await fromNobody(6)
    for (const [name, quantity] of [['Ines Abreu', 20] as const, ['Tomas Berg', 6] as const]) {
      const donor = await makeDonor(stage, name, { contact: '' })
      await (await maker()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity })
    }
    const { likely } = await (await volunteer()).parcels.one({ parcelId: parcel.id })
    expect(likely.map(({ name, exact }) => [name, exact])).toEqual([
      ['Tomas Berg', 1],
      ['Ines Abreu', 0],
    ])
  })

  test('claimed, it meets the promise and splits it, and the history of the gift tells where it came from', async () => {
    const { part, parcel } = await fromNobody(4)
    const ines = await makeDonor(stage)
    const promise = await (await maker()).gifts.add({ donorId: ines.id, kind: 'parts', partId: part.id, quantity: 6 })
    expect(await (await volunteer()).parcels.previewMerge({ keptId: ines.id, goneId: parcel.donorId })).toMatchObject({
      gifts: 1,
      parcels: 1,
      changes: [],
      meets: [{ promiseId: promise.id, quantity: 4, stillPromised: 2 }],
    })
    await (await volunteer()).parcels.claim({ parcelId: parcel.id, donorId: ines.id })
    const { gifts } = await (await volunteer()).outcome.donorPage({ donorId: ines.id })
    expect(gifts.map(({ id, state, quantity }) => [id === promise.id, state, quantity])).toEqual([
      [false, 'promised', 2],
      [true, 'counted', 4],
    ])
    expect(await history(ines.id)).toContain('donor: Sender not known (2027-03-13, 12:00) → Ines Abreu')
    expect((await (await volunteer()).buildable.part({ partId: part.id })).batches).toMatchObject([{ quantity: 4, donorId: ines.id }])
    expect(await (await volunteer()).parcels.one({ parcelId: parcel.id })).toMatchObject({ isUnclaimed: false, donorName: 'Ines Abreu' })
    expect(await (await volunteer()).outcome.thanksDue()).toMatchObject([{ donorId: ines.id }])
    expect((await (await volunteer()).donors.list()).donors.map(({ name }) => name)).toEqual(['Ines Abreu'])
  })

  test('is claimed once, and a known one never', async () => {
    const { parcel } = await fromNobody()
    const ines = await makeDonor(stage)
    await (await volunteer()).parcels.claim({ parcelId: parcel.id, donorId: ines.id })
    const again = (await volunteer()).parcels.claim({ parcelId: parcel.id, donorId: (await makeDonor(stage, 'Tomas Berg')).id })
    await expect(again).rejects.toThrow('It is already known to be from Ines Abreu.')
  })

  test('by somebody new: the stand-in gets their name and is one no more', async () => {
    const { parcel } = await fromNobody()
    await (await volunteer()).donors.change({ donorId: parcel.donorId, name: 'Ravi Osei', creditName: 'Ravi Osei', anonymity: 'named' })
    expect(await (await volunteer()).parcels.one({ parcelId: parcel.id })).toMatchObject({ isUnclaimed: false, donorName: 'Ravi Osei' })
  })
})

describe('two records of one donor', () => {
  test('become one without losing a gift, a parcel, a consent that was withdrawn or a line of history', async () => {
    await makeCampaign(stage)
    const kept = await makeDonor(stage)
    const gone = await makeDonor(stage, 'Abreu, I.', { contact: 'i@abreu.example', consents: { page: true, stream: false, card: true } })
    const part = await makePart(stage)
    const { parcelId } = await (await volunteer()).parcels.log({
      key: 'parcel-one',
      donorId: gone.id,
      lines: [{ partId: part.id, quantity: 3 }],
    })
    await (await maker()).gifts.add({ donorId: gone.id, kind: 'labour', words: 'winding coils', minutes: 60 })
    const before = (await (await volunteer()).outcome.donorPage({ donorId: gone.id })).gifts.map(({ id }) => id)
    const { link } = await (await maker()).yours.makeLink({ donorId: gone.id })

    await (await maker()).parcels.mergeDonors({ keptId: kept.id, goneId: gone.id })

    const page = await (await volunteer()).outcome.donorPage({ donorId: kept.id })
    expect(page.gifts.map(({ id }) => id).sort()).toEqual(before.sort())
    expect(page.donor.consents).toEqual({ page: true, stream: false, card: true })
    expect(page.mergedRecords).toMatchObject([{ name: 'Abreu, I.', contact: 'i@abreu.example' }])
    expect((await history(kept.id)).filter((line) => line === 'donor: Abreu, I. → Ines Abreu')).toHaveLength(2)
    expect(await (await volunteer()).parcels.one({ parcelId })).toMatchObject({ donorId: kept.id })
    expect((await (await volunteer()).donors.list()).donors).toHaveLength(1)
    // The link that was mailed before leads to the record that was kept, and so does the old email address.
    expect((await stage.visitor().yours.open({ token: link.split('#')[1] ?? '' })).creditName).toBe('Ines Abreu')
    const promise = {
      key: 'form-of-a-reader',
      partId: part.id,
      quantity: 1,
      name: 'I.',
      mail: 'I@abreu.example',
      consents: page.donor.consents,
    }
    await stage.visitor().donors.promise(promise)
    expect((await (await volunteer()).donors.list()).toApprove).toMatchObject([{ donorId: kept.id }])
  })

  test('are not merged twice, nor with themselves, nor by a volunteer', async () => {
    const kept = await makeDonor(stage)
    const gone = await makeDonor(stage, 'Abreu, I.')
    await expect((await volunteer()).parcels.mergeDonors({ keptId: kept.id, goneId: gone.id })).rejects.toThrow('done by the maker')
    await expect((await maker()).parcels.mergeDonors({ keptId: kept.id, goneId: kept.id })).rejects.toThrow('already one record')
    await (await maker()).parcels.mergeDonors({ keptId: kept.id, goneId: gone.id })
    await expect((await maker()).parcels.mergeDonors({ keptId: kept.id, goneId: gone.id })).rejects.toThrow(
      'already been merged into another record',
    )
  })
})
