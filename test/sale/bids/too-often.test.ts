import { afterEach, beforeEach, expect, test } from 'vitest'
import { SECOND } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { takeBid } from '#sale/bids/take-bid.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

/** Raises by ten pounds at a time, so many times, a second apart. */
async function raise(bidder: Awaited<ReturnType<typeof makeBidder>>, lot: number, times: number, from: number) {
  for (let n = 0; n < times; n++) {
    await bidder.bid(lot, String(from + 10 * n))
    stage.clock.pass(SECOND)
  }
}

test('twelve bids of one paddle on one lot are taken within a minute; the next is told how long to wait, and taken then', async () => {
  const { number } = await makeOpenLot(stage)
  const ada = await makeBidder(stage, 'Ada')
  await raise(ada, number, 12, 100)
  await expect(ada.bid(number, '300')).rejects.toThrow('more than 12 bids of yours on this lot within a minute. Send it again in 48 s.')
  stage.clock.pass(48 * SECOND - 1)
  await expect(ada.bid(number, '300')).rejects.toThrow('in 1 s')
  stage.clock.pass(1)
  expect(await ada.bid(number, '300')).toMatchObject({ leads: true, maximumMinor: 30_000 })
  expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ bids: 13 })
})

test('another paddle is not held up by it, and neither is the same on another lot', async () => {
  const { number } = await makeOpenLot(stage)
  const { number: other } = await makeOpenLot(stage, { tag: 'TERN-04' })
  const [ada, bo] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Bo')]
  await raise(ada, number, 12, 100)
  expect(await bo.bid(number, '400')).toMatchObject({ leads: true })
  expect(await ada.bid(other, '40')).toMatchObject({ leads: true })
  await expect(ada.bid(number, '500')).rejects.toThrow('within a minute')
})

test('what was refused, or sent again with the same key, counts for nothing', async () => {
  const { number } = await makeOpenLot(stage)
  const ada = await makeBidder(stage, 'Ada')
  for (let n = 0; n < 20; n++) await expect(ada.bid(number, '1')).rejects.toThrow('at least')
  for (let n = 0; n < 20; n++) await ada.bid(number, '50', 'one-form-sent-again')
  await raise(ada, number, 11, 100)
  await expect(ada.bid(number, '900')).rejects.toThrow('within a minute')
})

test('neither does a bid that was undone after it was taken', async () => {
  const { number } = await makeOpenLot(stage)
  const ada = await makeBidder(stage, 'Ada')
  await raise(ada, number, 10, 100)
  for (let n = 0; n < 3; n++) {
    const undone = stage.command((turn) => {
      const who = { personId: ada.actor.personId, role: 'bidder' } as const
      takeBid(turn, who, { lot: number, key: `a-bid-that-is-undone-${n}`, maximumMinor: 50_000 })
      throw new Refusal('conflict', 'Something else went wrong.')
    })
    await expect(undone).rejects.toThrow('Something else')
  }
  await raise(ada, number, 2, 300)
  await expect(ada.bid(number, '900')).rejects.toThrow('within a minute')
})
