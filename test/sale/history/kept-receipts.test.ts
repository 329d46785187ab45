import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest'
import { byHouse, watchLot } from '#app/_trust/receipt-box.ts'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import { readKeySet } from '#bench/certificates/key-set.rules'
import { ADDRESSES } from '#doors/web/addresses'
import { matchAddress } from '#runtime/call/address'
import type { Receipt } from '#sale/history/history.contract'
import { readHistory } from '#sale/history/history.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let number: number
let receipts: Receipt[]
beforeAll(async () => {
  stage = openStage()
  ;({ number } = await makeOpenLot(stage))
  const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
  receipts = [(await ada.bid(number, '50')).receipt, (await ben.bid(number, '80')).receipt, (await ada.bid(number, '120')).receipt]
  await ben.bid(number, '200')
})
afterAll(() => stage.close())
afterEach(() => vi.unstubAllGlobals())

const keysOf = (from: Stage) => {
  const set = readKeySet(from.house.keys.jwks())
  if ('fault' in set) throw new Error(set.fault)
  return set.keys
}
/** The browser asks the house of a stage. */
const asks = (from: Stage) =>
  vi.stubGlobal('fetch', async (path: string) => {
    const url = new URL(path, 'http://house')
    const match = matchAddress(ADDRESSES, url.pathname)
    const answer = match?.address.answer(from.sight(), match.params, url.searchParams)
    return answer ? new Response(String(answer.body)) : new Response('', { status: 404 })
  })
const file = (name: string, content: unknown) => ({ name, bytes: new TextEncoder().encode(JSON.stringify(content)) })
const kept = (some = receipts) => file('receipts.json', { kind: 'tagstrip-receipts', version: 1, receipts: some })

describe('receipts that were kept', () => {
  it('prove the maxima of their owner while the lot is open', async () => {
    const findings = await checkChosen([kept()], keysOf(stage))
    expect(findings[0]).toMatchObject({ tone: 'ok', title: 'Each receipt in it is this house’s, and whole.' })
    expect(findings.map(({ words }) => words).join(' ')).toContain('allowed 12000 in the smallest unit')
  })

  it.each<[string, (one: Receipt) => void, string]>([
    ['another amount', (one) => Object.assign(one.opening, { amountMinor: 1 }), 'commits to another amount'],
    ['another lot', (one) => Object.assign(one.opening, { lot: 99 }), 'the head of another lot'],
    ['another place', (one) => Object.assign(one, { index: one.index + 1 }), 'does not hold your entry'],
  ])('that claim %s are found', async (_, change, words) => {
    const forged = structuredClone(receipts)
    if (forged[1]) change(forged[1])
    const [verdict] = await checkChosen([kept(forged)], keysOf(stage))
    expect(verdict).toMatchObject({ tone: 'bad', title: expect.stringContaining(words) })
  })

  it('are nothing to check where there is none', async () => {
    expect(await checkChosen([kept([])], keysOf(stage))).toMatchObject([{ tone: 'doubt', title: 'There is nothing to check in it.' }])
  })

  it('are held against every history of their lot, not the first alone', async () => {
    const history = readHistory(stage.sight(), number)
    const shorter = { ...history, leaves: history.leaves.slice(0, -2), heads: history.heads.slice(0, -2) }
    const findings = await checkChosen([kept(), file('whole.json', history), file('shorter.json', shorter)], keysOf(stage))
    expect(findings).toContainEqual(
      expect.objectContaining({ tone: 'bad', about: 'receipts.json, shorter.json', title: expect.stringContaining('receipt of bid 3') }),
    )
  })

  it('are continued by the newest head, and by the history', async () => {
    asks(stage)
    expect(await watchLot(number, keysOf(stage), receipts)).toEqual({ is: 'continued', receipts: 3, ofOthers: 0 })
    const findings = await checkChosen([kept(), file('history.json', readHistory(stage.sight(), number))], keysOf(stage))
    expect(findings.filter(({ tone }) => tone !== 'ok')).toEqual([])
  })

  it('are contradicted, loudly, by a house that shows another history or a shorter one', async () => {
    const other = openStage()
    await makeOpenLot(other)
    const eve = await makeBidder(other, 'Eve')
    await eve.bid(number, '50')
    asks(other)
    expect(await watchLot(number, [...keysOf(stage), ...keysOf(other)], receipts)).toMatchObject({ is: 'contradicted' })
    for (const amount of ['90', '130', '170']) await eve.bid(number, amount)
    const watched = await watchLot(number, [...keysOf(stage), ...keysOf(other)], receipts)
    expect(watched).toMatchObject({
      is: 'contradicted',
      words: expect.stringContaining('does not continue the head of your receipt of bid 1'),
    })
    const findings = await checkChosen([kept(), file('h.json', readHistory(other.sight(), number))], [...keysOf(stage), ...keysOf(other)])
    expect(findings.some(({ title }) => title === 'The history contradicts the receipt of bid 1')).toBe(true)
    expect(await watchLot(number, keysOf(stage), receipts)).toMatchObject({
      words: expect.stringContaining('not signed by a key of this house'),
    })
    other.close()
  })

  it('of another house that stood at this address are told apart, and contradict nothing', async () => {
    const fresh = openStage()
    await makeOpenLot(fresh)
    const { receipt } = await (await makeBidder(fresh, 'Eve')).bid(number, '50')
    asks(fresh)
    const { own, other } = await byHouse([...receipts, receipt], keysOf(fresh))
    expect({ own, other }).toEqual({ own: [receipt], other: receipts })
    expect(await watchLot(number, keysOf(fresh), [...receipts, receipt])).toEqual({ is: 'continued', receipts: 1, ofOthers: 3 })
    expect(await watchLot(number, keysOf(fresh), receipts)).toEqual({ is: 'continued', receipts: 0, ofOthers: 3 })
    fresh.close()
  })

  it('cost one signature, that of the newest head, as long as it continues them all', async () => {
    asks(stage)
    const verify = vi.spyOn(crypto.subtle, 'verify')
    expect(await watchLot(number, keysOf(stage), receipts)).toMatchObject({ is: 'continued', receipts: 3 })
    expect(verify).toHaveBeenCalledTimes(1)
    verify.mockRestore()
  })

  it('are not compared without a connection, and that is said', async () => {
    vi.stubGlobal('fetch', async () => {
      throw new TypeError('offline')
    })
    expect(await watchLot(number, keysOf(stage), receipts)).toMatchObject({ is: 'unable', words: 'There is no connection.' })
  })
})
