import { afterEach, describe, expect, it } from 'vitest'
import { readCreditMarks } from '#gifts/credits/credits.service'
import { makeOpenLot, makePreparedLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const YES = { page: true, stream: true, card: false }

/** An open lot, a donor who gave an afternoon's help for its unit, and one who gave something for nobody in particular. */
async function givenTo() {
  stage = openStage()
  const { number, unitId } = await makeOpenLot(stage)
  const maker = await stage.as('maker')
  const donor = async (name: string, more: object = {}) => (await maker.donors.add({ name, consents: YES, ...more })).id
  const ines = await donor('Ines Abreu', { sayIt: 'ee-NESH' })
  const bo = await donor('Bo Ferris')
  const gift = (donorId: string, more: object = {}) =>
    maker.gifts.add({ donorId, kind: 'labour', words: 'soldering', minutes: 90, ...more })
  await gift(ines, { onlyForUnitId: unitId })
  await gift(bo)
  return { maker, number, ines, bo, donor, gift, unitId }
}

describe('credits', () => {
  it('of a lot name who gave for its unit, of the campaign everybody', async () => {
    const { number } = await givenTo()
    expect(await stage.visitor().credits.forLot({ number })).toMatchObject({ names: ['Ines Abreu'], unit: 'TERN-03' })
    expect((await stage.visitor().credits.forUnit({ tag: 'tern-03' })).names).toEqual(['Ines Abreu'])
    expect((await stage.visitor().credits.all())?.all.names).toEqual(['Bo Ferris', 'Ines Abreu'])
  })

  it('a donor who withdraws consent vanishes from the page at once', async () => {
    const { maker, number, ines } = await givenTo()
    await maker.donors.consent({ donorId: ines, use: 'page', given: false })
    expect((await stage.visitor().credits.forLot({ number })).names).toEqual([])
    expect((await stage.visitor().credits.all())?.all.names).toEqual(['Bo Ferris'])
    expect((await stage.visitor().credits.all())?.text).not.toContain('Ines')
  })

  it('say no id, no gift and no amount', async () => {
    const { ines } = await givenTo()
    const told = JSON.stringify(await stage.visitor().credits.all())
    expect(told).not.toContain(ines)
    expect(told).not.toMatch(/solder|90|minutes|amount/)
  })

  it('of a lot count the extras that go with it, and time, postage and money stand for all of them', async () => {
    const { maker, donor } = await givenTo()
    const { number } = await makePreparedLot(stage, { tag: 'TERN-04' })
    const cy = await donor('Cy Moss')
    const gift = await maker.gifts.add({ donorId: cy, kind: 'extras', words: 'A coil of wire', quantity: 1 })
    await maker.gifts.putWithLot({ giftId: gift.id, lot: number })
    const [names] = [async () => (await stage.visitor().credits.forUnit({ tag: 'TERN-04' })).names]
    expect(await names()).toEqual([])
    await (await stage.as('volunteer')).parcels.log({ key: 'extra-parcel', donorId: cy, lines: [{ promiseId: gift.id, quantity: 1 }] })
    expect(await names()).toEqual(['Cy Moss'])
    expect((await stage.visitor().credits.all())?.forAll.names).toEqual(['Bo Ferris'])
    expect((await maker.outcome.donorPage({ donorId: cy })).withLots).toEqual([{ giftId: gift.id, number }])
    await maker.gifts.putWithLot({ giftId: gift.id, lot: null })
    expect(await names()).toEqual([])
  })

  it('an extra is not put with a lot that is open already', async () => {
    const { maker, number, donor } = await givenTo()
    const gift = await maker.gifts.add({ donorId: await donor('Cy Moss'), kind: 'extras', words: 'A coil of wire', quantity: 1 })
    await expect(maker.gifts.putWithLot({ giftId: gift.id, lot: number })).rejects.toThrow('its terms are fixed')
  })

  it('a mark changes only where the names have changed, and tells nobody’s name', async () => {
    const { maker, number, ines } = await givenTo()
    const marks = () => readCreditMarks(stage.sight()).marks
    const before = marks()
    await maker.donors.consent({ donorId: ines, use: 'card', given: true })
    expect(marks()).toEqual(before)
    await maker.donors.consent({ donorId: ines, use: 'stream', given: false })
    expect(Object.keys(before).filter((key) => marks()[key] !== before[key])).toEqual(['stream all', `stream lot ${number}`])
    expect(JSON.stringify(marks())).not.toContain('Ines')
  })

  it('an unknown lot and an unknown unit are refused in words', async () => {
    await givenTo()
    await expect(stage.visitor().credits.forLot({ number: 99 })).rejects.toThrow('no lot 99')
    await expect(stage.visitor().credits.forUnit({ tag: 'NOPE-01' })).rejects.toThrow('no unit NOPE-01')
  })
})
