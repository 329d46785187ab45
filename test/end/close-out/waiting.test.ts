import { afterEach, beforeEach, expect, test } from 'vitest'
import { makeDonor, makePart } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

test('what waits is counted part by part of the work, and only for whom it is', async () => {
  const maker = await stage.as('maker')
  expect(await maker.closeOut.waiting()).toMatchObject({ gifts: { count: 0, words: '' }, bench: { count: 0 }, money: { count: 0 } })
  await makePart(stage)
  const volunteer = await stage.as('volunteer')
  await volunteer.parcels.log({ key: 'from-nobody-1', fromNobody: true, lines: [{ words: 'knobs', quantity: 4 }] })
  expect((await volunteer.closeOut.waiting()).gifts).toEqual({ count: 1, words: '1 parcel from an unknown sender' })
  const donor = await makeDonor(stage)
  await volunteer.parcels.log({ key: 'from-ines-1', donorId: donor.id, lines: [{ words: 'a crate of wire', quantity: 1 }] })
  stage.clock.pass(49 * 3_600_000)
  expect((await maker.closeOut.waiting()).gifts).toEqual({
    count: 2,
    words: '1 parcel from an unknown sender, 1 thanks older than 48 hours',
  })
  expect(Object.keys(await volunteer.closeOut.waiting()).sort()).toEqual(['bench', 'gifts'])
  expect(Object.keys(await (await stage.as('treasurer')).closeOut.waiting())).toEqual(['money'])
  await expect((await stage.as('bidder')).closeOut.waiting()).rejects.toThrow()
})
