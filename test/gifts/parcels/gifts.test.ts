import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { giftsHelping } from '#stock/shelf/behind.service'
import { makeCampaign } from '#test/make/campaign'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const maker = () => stage.as('maker')

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

  test('money is taken once a campaign says in which currency it is named, and not before', async () => {
    const gift = { donorId: (await makeDonor(stage)).id, kind: 'money', words: 'in the tin', amountMinor: 2550 } as const
    await expect((await maker()).gifts.add(gift)).rejects.toThrow('no campaign yet')
    await makeCampaign(stage)
    expect(await (await maker()).gifts.add(gift)).toMatchObject({ kind: 'money', amountMinor: 2550 })
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
