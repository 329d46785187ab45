import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { creditedNames } from '#stock/donors/credit.rules'
import { creditables } from '#stock/donors/donor.service'
import { makeCampaign } from '#test/make/campaign'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const maker = () => stage.as('maker')
const promise = {
  key: 'form-of-a-reader',
  quantity: 2,
  name: 'Ravi Osei',
  mail: 'ravi@osei.example',
  consents: { page: true, stream: false, card: false },
}

describe('consent', () => {
  test('withdrawn for the stream it is gone from the stream at once, and the page still names them', async () => {
    const donor = await makeDonor(stage)
    await (await maker()).donors.consent({ donorId: donor.id, use: 'stream', given: false })
    const now = creditables(stage.sight(), [donor.id])
    expect(creditedNames(now, 'stream').names).toEqual([])
    expect(creditedNames(now, 'page').names).toMatchObject([{ name: 'Ines Abreu' }])
    expect(stage.facts().at(-1)).toMatchObject({ kind: 'consent.withdrawn', subject: `donor:${donor.id}`, body: { use: 'stream' } })
  })

  test('said twice is kept once', async () => {
    const donor = await makeDonor(stage)
    const before = stage.facts().length
    await (await maker()).donors.consent({ donorId: donor.id, use: 'page', given: true })
    expect(stage.facts()).toHaveLength(before)
  })

  test('given again after it was withdrawn counts', async () => {
    const donor = await makeDonor(stage)
    await (await maker()).donors.consent({ donorId: donor.id, use: 'card', given: false })
    expect((await (await maker()).donors.consent({ donorId: donor.id, use: 'card', given: true })).consents.card).toBe(true)
  })

  test('a donor who becomes anonymous is named nowhere', async () => {
    const donor = await makeDonor(stage)
    await (await maker()).donors.change({ donorId: donor.id, creditName: 'Ines', sayIt: '', contact: '', anonymity: 'maker-only' })
    expect(creditedNames(creditables(stage.sight(), [donor.id]), 'page')).toEqual({ names: [], friends: 0, unnamed: 1 })
  })
})

describe('a mail address', () => {
  test('stands on its donor’s own sheet, and in no list that is given without confirming', async () => {
    const first = await makeDonor(stage, 'Wren Hallett', { contact: 'wren@hallett.example' })
    await makeDonor(stage, 'Wren Hallett', { contact: 'w.hallett@boats.example' })
    const volunteer = await stage.as('volunteer')
    const { donors } = await volunteer.donors.list()
    expect(donors.map(({ mailHint }) => mailHint).sort()).toEqual(['w…@boats.example', 'w…@hallett.example'])
    const started = await volunteer.parcels.start()
    expect(started.donors).toMatchObject([{ name: 'Wren Hallett' }, { name: 'Wren Hallett' }])
    const sheet = await volunteer.outcome.donorPage({ donorId: first.id })
    expect(sheet.donor.contact).toBe('wren@hallett.example')
    expect(sheet.doubles).toMatchObject([{ mailHint: 'w…@boats.example' }])
    for (const given of [donors, started]) expect(JSON.stringify(given)).not.toMatch(/hallett@boats|wren@hallett/)
    expect(JSON.stringify(started)).not.toContain('@')
    expect(JSON.stringify(sheet)).not.toContain('hallett@boats')
    expect(JSON.stringify([await volunteer.outcome.thanksDue(), await volunteer.outcome.soldThanksDue()])).not.toContain('@hallett')
  })
})

describe('a reader promises from the wanted list', () => {
  test('nobody but the staff sees it, and it counts as promised, only once it is approved', async () => {
    const part = await makePart(stage)
    await makeUnits(stage, ['WREN-06'], { [part.id]: 6 })
    await stage.visitor().donors.promise({ ...promise, partId: part.id })
    expect(await stage.visitor().buildable.wanted()).toMatchObject([{ quantity: 6, promised: 0 }])
    const { toApprove, donors } = await (await maker()).donors.list()
    expect(donors).toMatchObject([{ name: 'Ravi Osei', approved: false }])
    expect(creditedNames(creditables(stage.sight(), [donors[0]?.id ?? '']), 'page').names).toEqual([])

    await (await maker()).donors.approvePromise({ giftId: toApprove[0]?.id ?? '' })
    expect(await stage.visitor().buildable.wanted()).toMatchObject([{ quantity: 4, promised: 2 }])
    expect((await (await maker()).donors.list()).toApprove).toEqual([])
  })

  test('where to send it is told once it is confirmed, and not before', async () => {
    await makeCampaign(stage)
    const part = await makePart(stage)
    await stage.visitor().donors.promise({ ...promise, partId: part.id })
    expect(stage.letters()).toEqual([])
    const { toApprove } = await (await maker()).donors.list()
    await (await maker()).donors.approvePromise({ giftId: toApprove[0]?.id ?? '' })
    await (await maker()).donors.approvePromise({ giftId: toApprove[0]?.id ?? '' })
    expect(stage.letters()).toMatchObject([{ recipient: 'ravi@osei.example', body: expect.stringContaining('4 Slip Road') }])
  })

  test('the same form sent twice is one promise', async () => {
    const part = await makePart(stage)
    await stage.visitor().donors.promise({ ...promise, partId: part.id })
    await stage.visitor().donors.promise({ ...promise, partId: part.id })
    expect((await (await maker()).donors.list()).toApprove).toHaveLength(1)
  })

  test('a known email address keeps the name and consents that the staff have', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    await stage.visitor().donors.promise({ ...promise, partId: part.id, name: 'Not Ines', mail: 'INES@abreu.example' })
    const { donors, toApprove } = await (await maker()).donors.list()
    expect(donors).toMatchObject([{ id: donor.id, name: 'Ines Abreu' }])
    expect(toApprove).toMatchObject([{ donorId: donor.id }])
  })

  test('a declined one ends with a courteous letter, which names no value', async () => {
    await makeCampaign(stage)
    const part = await makePart(stage)
    await stage.visitor().donors.promise({ ...promise, partId: part.id })
    const { toApprove } = await (await maker()).donors.list()
    const declined = await (await maker()).donors.declinePromise({
      giftId: toApprove[0]?.id ?? '',
      reason: 'We have enough of these by now.',
    })
    expect(declined.state).toBe('declined')
    expect(stage.letters()[0]?.body).toContain('We have enough of these by now.')
    expect(stage.letters()[0]?.body).not.toMatch(/[£€$]|\d\.\d\d/)
  })

  test('one address cannot fill the list', async () => {
    const part = await makePart(stage)
    for (let count = 0; count < 10; count++)
      await stage.visitor().donors.promise({ ...promise, key: `form-number-${count}`, partId: part.id })
    const eleventh = stage.visitor().donors.promise({ ...promise, key: 'form-number-10', partId: part.id })
    await expect(eleventh).rejects.toThrow('A lot of promises are waiting')
  })

  test('too many from one place are turned away before anything is asked, and another place is not', async () => {
    for (let count = 0; count < 12; count++)
      await stage
        .visitor()
        .donors.promise({ ...promise, key: 'short' })
        .catch(() => {})
    const again = stage.visitor().donors.promise({ ...promise, key: 'short' })
    await expect(again).rejects.toThrow(
      'A lot of promises have just come from here. What you wrote is still in the form. Try again in a minute.',
    )
    const part = await makePart(stage)
    await stage.visitor([], '198.51.100.7').donors.promise({ ...promise, partId: part.id })
    expect((await (await maker()).donors.list()).toApprove).toHaveLength(1)
  })

  test('something that is not on the list can be offered in words, and shows nowhere before it was read', async () => {
    await stage.visitor().donors.promise({ ...promise, words: 'A roll of aerial wire' })
    await expect(stage.visitor().donors.promise({ ...promise, key: 'another-form' })).rejects.toThrow('Say what you are offering')
    expect((await (await maker()).donors.list()).toApprove).toMatchObject([
      { kind: 'extras', what: 'A roll of aerial wire', approved: false },
    ])
    expect(JSON.stringify([await stage.visitor().buildable.wanted(), await stage.visitor().credits.all()])).not.toContain('aerial wire')
  })

  test.each([
    ['no name', { name: '' }],
    ['an email address that is none', { mail: 'ravi' }],
    ['−1', { quantity: '-1' }],
    ['nothing', { quantity: '' }],
    ['1e308', { quantity: '1e308' }],
  ])('%s is refused and nothing is kept', async (_what, change) => {
    const part = await makePart(stage)
    await expect(stage.visitor().donors.promise({ ...promise, partId: part.id, ...change })).rejects.toThrow()
    expect((await (await maker()).donors.list()).donors).toEqual([])
  })

  test('a volunteer does not approve or decline', async () => {
    await expect((await stage.as('volunteer')).donors.approvePromise({ giftId: 'x' })).rejects.toThrow('This is done by the maker')
  })
})
