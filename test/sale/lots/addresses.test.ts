import { afterEach, beforeEach, expect, it } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { matchAddress } from '#runtime/call/address'
import { lotTopic } from '#sale/bidding/bidding.live'
import { closeDueLots } from '#sale/closings/close-due.service'
import { checkHistory } from '#sale/history/check-history.rules'
import type { History } from '#sale/history/history.contract'
import { sayLeaf } from '#sale/history/leaf-words.rules'
import { faultOfReceipt } from '#sale/history/receipt.rules'
import { makeBidder, makeOpenLot, makePreparedLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

async function read(path: string): Promise<unknown> {
  const match = matchAddress(ADDRESSES, path)
  const answer = await match?.address.answer(stage.sight(), match.params, new URLSearchParams())
  return answer ? JSON.parse(String(answer.body)) : null
}

it('/lots.json lists what is public, with money in minor units and instants in UTC, and never a draft', async () => {
  await makePreparedLot(stage)
  expect(await read('/lots.json')).toEqual({ lots: [] })
  const { number, closesAt } = await makeOpenLot(stage, { tag: 'TERN-04', form: { reserveKind: 'amount', reserve: '300' } })
  await (await makeBidder(stage, 'Ada')).bid(number, '210')
  expect(await read('/lots.json')).toEqual({
    lots: [
      expect.objectContaining({
        number,
        title: 'Saltmarsh shortwave receiver',
        state: 'open',
        unit: 'TERN-04',
        currency: 'GBP',
        openingMinor: 2000,
        standingMinor: 2000,
        bids: 1,
        reserve: 'unreached',
        closesAt: new Date(closesAt).toISOString(),
        links: { page: `/lots/${number}`, record: '/units/TERN-04/record.json', history: `/lots/${number}/history.json` },
      }),
    ],
  })
})

it('/lots/{number}/history.json holds what anybody needs to check a lot, and nothing for one that is not open', async () => {
  const { number, closesAt } = await makeOpenLot(stage)
  await (await makeBidder(stage, 'Ada')).bid(number, '210')
  await (await makeBidder(stage, 'Ben')).bid(number, '90')
  stage.clock.set(closesAt)
  await stage.command(closeDueLots)
  const history = (await read(`/lots/${number}/history.json`)) as History
  expect(checkHistory(history).filter(({ isSound }) => !isSound)).toEqual([])
  expect(history.leaves.map((leaf) => sayLeaf(leaf, history.currency)).slice(0, 2)).toEqual([
    'Opened at £20.00, without a reserve. The terms are fixed.',
    expect.stringMatching(/^Bid 1 by \w+, the maximum sealed\. \w+ leads at £20\.00: the opening price\.$/),
  ])
  for (const path of ['/lots/99/history.json', '/lots/0/history.json', '/lots/x/history.json']) expect(await read(path)).toBeNull()
})

it('a screen that follows a lot is sent its whole state after each bid, and nothing of a draft', async () => {
  const { number } = await makeOpenLot(stage)
  await (await makeBidder(stage, 'Ada')).bid(number, '210')
  const told = stage.facts().filter((fact) => lotTopic.touchedBy(fact).includes(`lot:${number}`))
  expect(told.map(({ kind }) => kind)).toContain('lot.bid')
  expect(lotTopic.frame(stage.sight(), `lot:${number}`)).toMatchObject({
    number,
    state: 'open',
    standingMinor: 2000,
    bids: 1,
    ledgerSize: 2,
  })
  const draft = await makePreparedLot(stage, { tag: 'TERN-05' })
  expect(lotTopic.frame(stage.sight(), `lot:${draft.number}`)).toBeNull()
  expect(lotTopic.frame(stage.sight(), 'lot:abc')).toBeNull()
})

it('a receipt that was changed in any part is found by the browser that checks it', async () => {
  const { number } = await makeOpenLot(stage)
  const { receipt, maximumMinor } = await (await makeBidder(stage, 'Ada')).bid(number, '210')
  expect(faultOfReceipt(receipt, maximumMinor)).toBeNull()
  expect(faultOfReceipt(receipt, maximumMinor - 1)).toContain('another amount')
  expect(faultOfReceipt({ ...receipt, opening: { ...receipt.opening, alias: '9X' } }, maximumMinor)).toContain('not yours')
  expect(faultOfReceipt({ ...receipt, path: [] }, maximumMinor)).toContain('does not hold your entry')
  expect(faultOfReceipt({ ...receipt, checkpoint: 'x' }, maximumMinor)).toContain('cannot be read')
})
