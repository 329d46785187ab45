import { afterEach, beforeEach, expect, test } from 'vitest'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const staff = () => stage.as('volunteer')

test('the catalogue says what is in hand, what is short, and what would unblock most, with who promised it', async () => {
  const donor = await makeDonor(stage)
  const part = await makePart(stage)
  await (await staff()).parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [{ partId: part.id, quantity: 4 }] })
  await makeUnits(stage, ['WREN-05', 'WREN-06'], { [part.id]: 6 })
  await (await staff()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity: 5 })
  const { lines, outlook } = await (await staff()).buildable.parts()
  expect(lines).toMatchObject([{ part: { id: part.id }, inHand: 4, short: 8, batches: 1 }])
  expect(outlook.parts).toMatchObject([{ short: 8, waiting: ['WREN-05', 'WREN-06'], promised: [{ donorName: 'Ines Abreu', quantity: 5 }] }])
  expect((await (await staff()).buildable.now()).unblockers).toMatchObject([
    { short: 8, gain: 2, frees: ['WREN-05', 'WREN-06'], coming: [{ donorName: 'Ines Abreu', quantity: 5, isOnItsWay: false }] },
  ])
})

test('a unit that is set aside waits for nothing', async () => {
  const part = await makePart(stage)
  await makeUnits(stage, ['WREN-05'], { [part.id]: 6 })
  stage.db.run("UPDATE unit SET set_aside_at = 1, set_aside_reason = 'suspect'")
  expect(await stage.visitor().buildable.wanted()).toEqual([])
})

test('what is wanted names no person', async () => {
  const donor = await makeDonor(stage)
  const part = await makePart(stage)
  await makeUnits(stage, ['WREN-05', 'WREN-06'], { [part.id]: 6 })
  await (await staff()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity: 5 })
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

test('the page of a part says how many units still wait for, and how many more to ask for to have them with 90 %', async () => {
  const part = await makePart(stage)
  await makeUnits(stage, ['WREN-05', 'WREN-06'], { [part.id]: 6 })
  await (await staff()).shelf.buy({ partId: part.id, boughtFrom: 'Corner Electronics', quantity: 4 })
  const { sampling } = await (await staff()).buildable.part({ partId: part.id })
  // None tested: of n pieces twelve are good with (n − 11) / (n + 1), which is 0.9 from n = 119.
  expect(sampling).toMatchObject([{ needed: 12, toAskFor: 115, tested: 0, untested: 4 }])
})
