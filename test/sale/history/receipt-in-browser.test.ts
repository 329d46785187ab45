import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { pricePathOf, sayPath } from '#app/_ui/price-path.rules.ts'
import { checkReceipt, houseKeys, signatureHolds } from '#app/(public)/lots/[number]/verify-receipt.ts'
import { showMoney } from '#kernel/money'
import type { BidAnswer } from '#sale/bids/bids.contract'
import { signedHeads } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { makeKey, makeLot, pounds } from '#test/make/lot-history'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let answer: BidAnswer
beforeEach(async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  answer = await (await makeBidder(stage, 'Ada')).bid(number, '50')
  const published = stage.sight().keys.jwks()
  vi.stubGlobal('fetch', async () => new Response(JSON.stringify(published)))
})
afterEach(() => {
  vi.unstubAllGlobals()
  stage.close()
})

/** A browser that knows no Ed25519, or a page that came without TLS: the same bytes, no means of its own. */
const without = () => vi.stubGlobal('crypto', { getRandomValues: crypto.getRandomValues.bind(crypto) })

describe.each([
  ['with a browser’s own signatures', () => undefined],
  ['with a library, where the browser has none', without],
])('the receipt, %s', (_, set) => {
  it('of the house holds', async () => {
    set()
    expect(await checkReceipt(answer)).toEqual({ fault: null, isSigned: true })
  })

  it.each<[string, (given: BidAnswer) => void]>([
    ['for another amount', (given) => Object.assign(given, { maximumMinor: 6000 })],
    ['with another entry', (given) => Object.assign(given.receipt.leaf, { at: '2027-03-13T12:00:00.001Z' })],
    [
      'signed by nobody',
      (given) => Object.assign(given.receipt, { checkpoint: given.receipt.checkpoint.replace(/.{8}\n$/, 'AAAAAAA=\n') }),
    ],
  ])('%s is found', async (_name, tamper) => {
    set()
    const given = JSON.parse(JSON.stringify(answer)) as BidAnswer
    tamper(given)
    expect((await checkReceipt(given)).fault).not.toBeNull()
  })

  it('of another house is found', async () => {
    set()
    const other = Buffer.from(makeKey().raw).toString('base64url')
    const heads = signedHeads(readHistory(stage.sight(), answer.lot))
    expect(await signatureHolds(heads, await houseKeys([other]))).toBe(false)
    expect(
      await signatureHolds(
        heads,
        await houseKeys(
          stage
            .sight()
            .keys.jwks()
            .keys.flatMap(({ x }) => x ?? []),
        ),
      ),
    ).toBe(true)
  })
})

it('without the house’s keys the receipt holds as far as it can be seen, and that is said', async () => {
  vi.stubGlobal('fetch', async () => {
    throw new TypeError('offline')
  })
  expect(await checkReceipt(answer)).toEqual({ fault: null, isSigned: false })
})

describe('the price path', () => {
  const show = (amount: number) => showMoney(amount, 'GBP', { short: true })

  it('is every bid with what then stood, the maxima once they are open, and the winner', () => {
    const lot = makeLot({ closesAt: 1000 })
    lot.bid('4K', pounds(60), 1)
    lot.bid('7R', pounds(90), 2)
    expect(pricePathOf(lot.history())).toMatchObject({ winner: null, points: [{ maximumMinor: null }, { standingMinor: pounds(65) }] })
    lot.say({ kind: 'close' }, 200_000)
    const path = pricePathOf(lot.history())
    expect(path).toMatchObject({ winner: '7R', hammerMinor: pounds(65), topMinor: pounds(65) })
    expect(path.points.map(({ kind, maximumMinor }) => [kind, maximumMinor])).toEqual([
      ['bid', pounds(60)],
      ['bid', null],
      ['end', null],
    ])
    expect(sayPath(path, show)).toBe('2 bids, from £20 to £65; 7R won.')
  })

  it('of a lot that nobody bid on says so', () => {
    expect(sayPath(pricePathOf(makeLot().history()), show)).toBe('Nobody bid.')
  })
})
