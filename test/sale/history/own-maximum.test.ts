import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import { comparedReceipts } from '#app/(public)/check/compare-receipts.ts'
import { compareReceiptsWithLive, compareWithLive } from '#app/(public)/check/live-history.ts'
import { type PublicKey, readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import type { History, Receipt } from '#sale/history/history.contract'
import { commitmentTo } from '#sale/history/ledger.rules'
import { makeKey, makeLot, pounds } from '#test/make/lot-history'
import { receiptOf } from '#test/make/lot-receipt'

const folder = mkdtempSync(join(tmpdir(), 'tagstrip-own-'))
afterAll(() => rmSync(folder, { recursive: true }))
afterEach(() => vi.unstubAllGlobals())

const CLOSES = 3_600_000
const house = makeKey()
const jwksOf = ({ raw }: ReturnType<typeof makeKey>) => {
  const x = Buffer.from(raw).toString('base64url')
  return { keys: [{ kty: 'OKP', crv: 'Ed25519', x, kid: thumbprintOf(x) }] }
}
const keysOf = (key: ReturnType<typeof makeKey>): PublicKey[] => {
  const read = readKeySet(jwksOf(key))
  if ('fault' in read) throw new Error(read.fault)
  return read.keys
}
const receiptsOf = (...receipts: Receipt[]) => ({ kind: 'tagstrip-receipts', version: 1, receipts })

/** What the page finds that is not well, and what the program for Node says. */
async function judge(files: Record<string, object>): Promise<{ page: string[]; node: { status: number | null; words: string } }> {
  const chosen = Object.entries(files).map(([name, content]) => ({ name, bytes: new TextEncoder().encode(JSON.stringify(content)) }))
  const found = await checkChosen(chosen, keysOf(house))
  const paths = Object.entries({ ...files, 'jwks.json': jwksOf(house) }).map(([name, content]) => {
    writeFileSync(join(folder, name), JSON.stringify(content))
    return join(folder, name)
  })
  const { status, stdout, stderr } = spawnSync(process.execPath, ['public/tagstrip-check.mjs', ...paths], { encoding: 'utf8' })
  const page = found.filter(({ tone }) => tone !== 'ok').map(({ tone, title, words }) => `${tone}: ${title} ${words}`)
  return { page, node: { status, words: stdout + stderr } }
}

type Made = ReturnType<typeof makeLot>
/** The house wrote all as if the bid of that number had been for what the lot was made with; its bidder was given another amount to keep. */
function lieOf(lot: Made, sequence: number, amountMinor: number): { history: History; receipt: Receipt } {
  const made = lot.openings.find((one) => one.sequence === sequence)
  if (!made) throw new Error('There is no such bid.')
  const opening = { ...made, amountMinor }
  const index = lot.leaves.findIndex((leaf) => leaf.kind === 'bid' && leaf.sequence === sequence)
  lot.leaves[index] = { ...lot.leaves[index], commitment: commitmentTo({ lot: 7, ...opening }) } as History['leaves'][number]
  const history = lot.history(house)
  return { history, receipt: receiptOf(history, opening) }
}
function twoBids(first: number, second: number, isClosed = true): Made {
  const lot = makeLot({ closesAt: CLOSES })
  lot.bid('AA', pounds(first), 1000)
  lot.bid('BB', pounds(second), 2000)
  if (isClosed) lot.say({ kind: 'close' }, CLOSES)
  return lot
}

describe('a maximum that only its owner knows', () => {
  it.each([true, false])('which the winner’s price exceeds is found by the receipt, with the lot closed: %s', async (isClosed) => {
    const { history, receipt } = lieOf(twoBids(200, 90, isClosed), 1, pounds(70))
    expect((await judge({ 'h.json': history })).node.status).toBe(0)
    const { page, node } = await judge({ 'h.json': history, 'r.json': receiptsOf(receipt) })
    expect(page).toEqual([expect.stringContaining('bad: The history does not fit the maximum of bid 1 Bid 1 allowed 7000')])
    expect(node).toMatchObject({ status: 1, words: expect.stringContaining('bid 1 allowed 7000, and the entry of') })
  })

  it('which the house passed over for a lower one is found', async () => {
    const { history, receipt } = lieOf(twoBids(40, 90, false), 1, pounds(300))
    const { page, node } = await judge({ 'h.json': history, 'r.json': receiptsOf(receipt) })
    expect(page).toEqual([expect.stringContaining('bad: The history does not fit the maximum of bid 1')])
    expect(node.status).toBe(1)
  })

  it('is held to the entry of its own bid without a history: what it leads at, and that the cap is the cap', async () => {
    for (const amount of [50, 400]) {
      // Bid 2 leads at its cap of 62, or, with a maximum of 200, a step over 60.
      const { receipt } = lieOf(twoBids(60, amount === 50 ? 200 : 62, false), 2, pounds(amount))
      const { page, node } = await judge({ 'r.json': receiptsOf(receipt) })
      expect(page[0]).toContain('bad: It is this house’s and unchanged, but does not hold by its own rules: Bid 2 allowed')
      expect(node.status).toBe(1)
    }
  })

  it('is played with where it stays sealed: a price over a lost lead that it did not make', async () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('AA', pounds(120), 1000)
    lot.bid('BB', pounds(200), 2000)
    lot.say({ kind: 'void', bidder: 'BB', reason: 'Asked for it.' }, 5000)
    lot.say({ kind: 'close' }, lot.state.closesAt ?? 0)
    const { history, receipt } = lieOf(lot, 1, pounds(100))
    const { page } = await judge({ 'h.json': history, 'r.json': receiptsOf(receipt) })
    expect(page).toEqual([expect.stringContaining('bad: With the maxima of the receipts, the history does not hold')])
  })

  it('of an honest house fits its history, raises and voids included', async () => {
    const lot = makeLot({ closesAt: CLOSES })
    for (const [index, [bidder, amount]] of (
      [
        ['AA', 60],
        ['BB', 90],
        ['AA', 90],
        ['AA', 150],
        ['CC', 151],
        ['AA', 400],
      ] as const
    ).entries())
      lot.bid(bidder, pounds(amount), (index + 1) * 1000)
    lot.say({ kind: 'void', bidder: 'CC', reason: 'Asked for it.' }, 60_000)
    lot.say({ kind: 'close' }, lot.state.closesAt ?? 0)
    const history = lot.history(house)
    const { page, node } = await judge({ 'h.json': history, 'r.json': receiptsOf(...lot.openings.map((one) => receiptOf(history, one))) })
    expect(page).toEqual([])
    expect(node).toMatchObject({ status: 0, words: expect.stringContaining('(compared with its history)') })
  })
})

describe('receipts with no history of theirs beside them', () => {
  const lot = twoBids(60, 90)
  const history = lot.history(house)
  const [first, second] = lot.openings.map((one) => receiptOf(history, one)) as [Receipt, Receipt]

  it('are said not to be compared, the more so beside one of another house', async () => {
    const alone = await judge({ 'r.json': receiptsOf(first) })
    expect(alone.page).toEqual([expect.stringContaining('info: Not compared with a history No history of house.example/lots/7 was chosen')])
    expect(alone.node.words).toContain('house.example/lots/7 (compared with no history)')
    const other = { ...history, origin: 'other.example/lots/7' }
    expect(comparedReceipts('r.json', [first], [{ name: 'other.json', history: other }])).toMatchObject([
      { tone: 'doubt', words: expect.stringContaining('other.json is the history of other.example/lots/7, which is another lot') },
    ])
  })

  it('are not said to be all that there were, nor twice as many bids', async () => {
    const [verdict] = await checkChosen(
      [{ name: 'r.json', bytes: new TextEncoder().encode(JSON.stringify(receiptsOf(first, second, first))) }],
      keysOf(house),
    )
    expect(verdict).toMatchObject({
      title: 'Each receipt in it is this house’s, and whole.',
      words: expect.stringMatching(/^3 receipts of 2 bids, on lots 7\. The file itself is not signed/),
    })
    expect((await judge({ 'r.json': receiptsOf(first, second, first) })).node.words).toContain('3 receipts of 2 bids, of')
  })

  it('are held against what the house shows now where their owner asks for it', async () => {
    expect(await compareReceiptsWithLiveOf(history, [first, second])).toMatchObject([
      { tone: 'ok', title: 'The history of lot 7 fits the receipts' },
    ])
    const dropped = makeLot({ closesAt: CLOSES })
    dropped.bid('AA', pounds(60), 1000)
    expect(await compareReceiptsWithLiveOf(dropped.history(house), [first, second])).toMatchObject([
      { tone: 'bad', title: 'The history contradicts the receipt of bid 2' },
    ])
    expect(await compareReceiptsWithLiveOf(history, [first], makeKey())).toMatchObject([{ tone: 'bad' }])
  })

  it('are told which bids of theirs have none', async () => {
    const more = makeLot({ closesAt: CLOSES })
    more.bid('AA', pounds(60), 1000)
    more.bid('AA', pounds(90), 2000)
    const shown = more.history(house)
    const [one] = more.openings
    const found = one && (await compareReceiptsWithLiveOf(shown, [receiptOf(shown, one)]))
    expect(found).toMatchObject([{ tone: 'ok', words: expect.stringContaining('bids without a receipt in the file: 2.') }])
  })
})

function shows(history: History): void {
  vi.stubGlobal('fetch', async () => new Response(JSON.stringify(history)))
}
async function compareReceiptsWithLiveOf(history: History, receipts: Receipt[], key = house) {
  shows(history)
  return compareReceiptsWithLive('r.json', receipts, keysOf(key))
}

describe('a kept history beside what the house shows now', () => {
  const kept = { name: 'kept.json', history: twoBids(60, 90).history(house) }
  const earlier = makeLot({ closesAt: CLOSES })
  earlier.bid('AA', pounds(60), 1000)

  it('is begun by it, and a house that shows less has taken entries back', async () => {
    shows(kept.history)
    expect(await compareWithLive({ name: 'earlier.json', history: earlier.history(house) }, keysOf(house))).toMatchObject([
      { tone: 'ok', title: 'One history is the beginning of the other' },
    ])
    shows(earlier.history(house))
    expect(await compareWithLive(kept, keysOf(house))).toMatchObject([
      { tone: 'bad', title: 'The house has taken back entries', words: expect.stringContaining('has 2 of the 5 entries of kept.json') },
    ])
  })

  it('of which the house shows nothing any more speaks against it, and at another address says nothing', async () => {
    const [opening] = twoBids(60, 90).openings
    if (!opening) throw new Error('Two bids were made.')
    const receipt = receiptOf(kept.history, opening)
    const compared = async (host: string) => {
      vi.stubGlobal('location', { host })
      vi.stubGlobal('fetch', async () => new Response('', { status: 404 }))
      return [...(await compareWithLive(kept, keysOf(house))), ...(await compareReceiptsWithLive('r.json', [receipt], keysOf(house)))].map(
        ({ tone, title }) => `${tone}: ${title}`,
      )
    }
    expect(await compared('house.example')).toEqual(Array(2).fill('bad: The house shows nothing of lot 7 any more'))
    expect(await compared('copy.example')).toEqual(Array(2).fill('doubt: Lot 7 could not be compared'))
  })

  it('is compared with nothing that no key of the house signed', async () => {
    shows(twoBids(60, 90).history(makeKey()))
    expect(await compareWithLive(kept, keysOf(house))).toMatchObject([
      { tone: 'bad', title: 'What the house shows now of lot 7 cannot be relied on' },
    ])
  })
})
