import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { HOUR } from '#kernel/instant'
import { creditedNames } from '#stock/donors/credit.rules'
import { creditables } from '#stock/donors/donor.service'
import { giftsHelping } from '#stock/shelf/behind.service'
import { makeCampaign } from '#test/make/campaign'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { NOON, openStage, type Stage } from '#test/stage'

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

  test('a known mail address keeps the name and consents that the staff have', async () => {
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
    await expect(eleventh).rejects.toThrow('Many promises wait')
  })

  test('too many from one place are turned away before anything is asked, and another place is not', async () => {
    for (let count = 0; count < 12; count++)
      await stage
        .visitor()
        .donors.promise({ ...promise, key: 'short' })
        .catch(() => {})
    const again = stage.visitor().donors.promise({ ...promise, key: 'short' })
    await expect(again).rejects.toThrow(
      'Many promises came from here just now. What you wrote is still in the form. Try again in a minute.',
    )
    const part = await makePart(stage)
    await stage.visitor([], '198.51.100.7').donors.promise({ ...promise, partId: part.id })
    expect((await (await maker()).donors.list()).toApprove).toHaveLength(1)
  })

  test('something that is not on the list can be offered in words, and shows nowhere before it was read', async () => {
    await stage.visitor().donors.promise({ ...promise, words: 'A roll of aerial wire' })
    await expect(stage.visitor().donors.promise({ ...promise, key: 'another-form' })).rejects.toThrow('Say what you offer')
    expect((await (await maker()).donors.list()).toApprove).toMatchObject([
      { kind: 'extras', what: 'A roll of aerial wire', approved: false },
    ])
    expect(JSON.stringify([await stage.visitor().buildable.wanted(), await stage.visitor().credits.all()])).not.toContain('aerial wire')
  })

  test.each([
    ['no name', { name: '' }],
    ['a mail address that is none', { mail: 'ravi' }],
    ['−1', { quantity: '-1' }],
    ['nothing', { quantity: '' }],
    ['1e308', { quantity: '1e308' }],
  ])('%s is refused and nothing is kept', async (_what, change) => {
    const part = await makePart(stage)
    await expect(stage.visitor().donors.promise({ ...promise, partId: part.id, ...change })).rejects.toThrow()
    expect((await (await maker()).donors.list()).donors).toEqual([])
  })

  test('what is wanted names no person', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    await makeUnits(stage, ['WREN-05', 'WREN-06'], { [part.id]: 6 })
    await (await maker()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity: 5 })
    const wanted = await stage.visitor().buildable.wanted()
    expect(wanted).toEqual([
      {
        partId: part.id,
        what: 'Display, 14 mm',
        hardToFind: false,
        quantity: 7,
        promised: 5,
        designs: ['Tidemill LC-6'],
        units: ['WREN-05', 'WREN-06'],
        frees: ['WREN-05', 'WREN-06'],
      },
    ])
    expect(JSON.stringify(wanted)).not.toMatch(/Ines|abreu/)
  })
})

describe('thanks', () => {
  const arrived = async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    await (await stage.as('volunteer')).parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [{ partId: part.id, quantity: 20 }] })
    return donor
  }

  test('are due when something came, and overdue after 48 hours and not at 48', async () => {
    const donor = await arrived()
    const due = async () => (await maker()).outcome.thanksDue()
    expect(await due()).toMatchObject([{ donorId: donor.id, donorName: 'Ines Abreu', since: NOON, overdue: false }])
    stage.clock.set(NOON + 48 * HOUR)
    expect(await due()).toMatchObject([{ overdue: false }])
    stage.clock.pass(1)
    expect(await due()).toMatchObject([{ overdue: true }])
  })

  test('go out as drafted from the facts, and once', async () => {
    await makeCampaign(stage)
    const donor = await arrived()
    const { thanks } = await (await maker()).outcome.donorPage({ donorId: donor.id })
    expect(thanks?.draft.body).toContain('- 20 × Display, 14 mm: 20 in hand.')
    const letter = { donorId: donor.id, giftIds: thanks?.giftIds ?? [], byHand: false, ...thanks?.draft }
    expect(await (await maker()).outcome.thank(letter)).toEqual({ thanked: 1 })
    expect(await (await maker()).outcome.thank(letter)).toEqual({ thanked: 0 })
    expect(stage.letters()).toMatchObject([{ recipient: 'ines@abreu.example', subject: 'Long Bench Day: thank you' }])
    expect(await (await maker()).outcome.thanksDue()).toEqual([])
  })

  test('said by hand are noted, and nothing is sent', async () => {
    const donor = await arrived()
    const { thanks } = await (await maker()).outcome.donorPage({ donorId: donor.id })
    await (await maker()).outcome.thank({ donorId: donor.id, giftIds: thanks?.giftIds ?? [], byHand: true })
    expect(stage.letters()).toEqual([])
    expect(await (await maker()).outcome.thanksDue()).toEqual([])
  })

  test('a promise is not thanked for before it came', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    await (await maker()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity: 6 })
    expect(await (await maker()).outcome.thanksDue()).toEqual([])
  })
})

describe('gifts without a parcel', () => {
  test('hours of help for a design are behind each of its units, and have no cash value', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    const [unit] = await makeUnits(stage, ['WREN-05'], { [part.id]: 6 })
    if (!unit) throw new Error('no unit')
    const help = await (await maker()).gifts.add({
      donorId: donor.id,
      kind: 'labour',
      words: 'winding coils',
      minutes: '90',
      onlyForDesignId: unit.designId,
    })
    expect(help).toMatchObject({ state: 'available', minutes: 90, amountMinor: null })
    expect(giftsHelping(stage.sight(), { unitId: unit.id, designId: unit.designId })).toMatchObject([
      { donor: { creditName: 'Ines Abreu' }, batchId: null },
    ])
    expect(giftsHelping(stage.sight(), { unitId: 'other', designId: 'other' })).toEqual([])
  })

  test.each([
    [{ kind: 'labour', words: 'winding coils' }, 'Write how many minutes'],
    [{ kind: 'money', words: 'by hand' }, 'Write how much'],
    [{ kind: 'extras', words: 'a manual' }, 'Write how many'],
    [{ kind: 'extras', quantity: 1 }, 'Say what it is'],
  ] as const)('%j is not enough', async (gift, words) => {
    const donor = await makeDonor(stage)
    await expect((await maker()).gifts.add({ donorId: donor.id, ...gift })).rejects.toThrow(words)
  })

  test('a volunteer does not approve or decline', async () => {
    await expect((await stage.as('volunteer')).donors.approvePromise({ giftId: 'x' })).rejects.toThrow('This is done by the maker')
  })
})

describe('what is put right afterwards', () => {
  test('a miscounted promise keeps what was written before and why', async () => {
    const donor = await makeDonor(stage)
    const gift = await (await maker()).gifts.add({ donorId: donor.id, kind: 'extras', words: 'manuals', quantity: 3 })
    await (await maker()).gifts.recount({ giftId: gift.id, quantity: 5, reason: 'two stuck together' })
    const { gifts, changes } = await (await maker()).outcome.donorPage({ donorId: donor.id })
    expect(gifts).toMatchObject([{ quantity: 5 }])
    expect(changes).toMatchObject([{ what: 'quantity', was: '3', now: '5', reason: 'two stuck together' }])
    await expect((await maker()).gifts.recount({ giftId: gift.id, quantity: 0, reason: 'none' })).rejects.toThrow('Decline it instead')
  })

  test('a gift is restricted in words of its history, and not against what is fitted already', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    const [wren] = await makeUnits(stage, ['WREN-05', 'WREN-06'], { [part.id]: 6 })
    const caller = await stage.as('volunteer')
    await caller.parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [{ partId: part.id, quantity: 6, onlyForUnitId: wren?.id }] })
    const giftId = (await caller.outcome.donorPage({ donorId: donor.id })).gifts[0]?.id ?? ''
    expect((await caller.buildable.part({ partId: part.id })).batches).toMatchObject([{ restriction: { onlyForUnitId: wren?.id } }])
    await caller.gifts.restrict({ giftId, reason: 'they wrote that any will do' })
    expect((await caller.outcome.donorPage({ donorId: donor.id })).changes).toMatchObject([
      { what: 'restriction', was: 'only for WREN-05', now: 'for any machine', reason: 'they wrote that any will do' },
    ])
    await expect(caller.gifts.restrict({ giftId, onlyForUnitId: 'nothing' })).rejects.toThrow('There is no such unit')
    await expect(caller.gifts.add({ donorId: donor.id, kind: 'labour', words: 'x', minutes: 5, onlyForDesignId: 'no' })).rejects.toThrow(
      'There is no such design',
    )
  })

  test('what is returned goes with the letter that the staff have before them', async () => {
    const donor = await makeDonor(stage)
    const caller = await stage.as('volunteer')
    await caller.parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [{ words: 'a manual', quantity: 1 }] })
    const giftId = (await caller.outcome.donorPage({ donorId: donor.id })).gifts[0]?.id ?? ''
    await caller.gifts.move({ giftId, to: 'returned', reason: 'not ours', subject: 'Your manual', body: 'It comes back to you.' })
    expect(stage.letters()).toMatchObject([{ recipient: 'ines@abreu.example', subject: 'Your manual' }])
    expect(await caller.outcome.thanksDue()).toEqual([])
  })
})

describe('a gift line moves by its rule', () => {
  test('what is in hand is not given back before its batch was put right', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    const caller = await stage.as('volunteer')
    await caller.parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [{ partId: part.id, quantity: 6 }] })
    const giftId = (await caller.outcome.donorPage({ donorId: donor.id })).gifts[0]?.id ?? ''
    await expect(caller.gifts.move({ giftId, to: 'returned', reason: 'wrong type' })).rejects.toThrow('Batch B-0001 still has 6 in hand')
    const batchId = (await caller.buildable.part({ partId: part.id })).batches[0]?.id ?? ''
    await caller.shelf.recount({ batchId, quantity: 0, reason: 'sent back' })
    expect(await caller.gifts.move({ giftId, to: 'returned', reason: 'wrong type' })).toMatchObject({ state: 'returned' })
    await expect(caller.gifts.move({ giftId, to: 'available' })).rejects.toThrow('stays so')
  })
})
