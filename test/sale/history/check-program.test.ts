import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { thumbprintOf } from '#bench/certificates/key-set.rules'
import type { History } from '#sale/history/history.contract'
import { readHistory } from '#sale/history/history.service'
import { makeCampaign } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'
import { packInto } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'

const program = join(import.meta.dirname, '..', '..', '..', 'public', 'tagstrip-check.mjs')
const folder = mkdtempSync(join(tmpdir(), 'tagstrip-check-'))
let stage: Stage
beforeAll(() => {
  stage = openStage()
})
afterAll(() => {
  stage.close()
  rmSync(folder, { recursive: true })
})

const keep = (name: string, content: string | Uint8Array | object): string => {
  const file = join(folder, name)
  writeFileSync(file, typeof content === 'string' || content instanceof Uint8Array ? content : JSON.stringify(content))
  return file
}
const run = (...words: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], { encoding: 'utf8' })
  return { status, words: stdout + stderr }
}
const xOf = ({ raw }: ReturnType<typeof makeKey>) => Buffer.from(raw).toString('base64url')
const setOf = (...keys: ReturnType<typeof makeKey>[]) => ({
  keys: keys.map((key) => ({ kty: 'OKP', crv: 'Ed25519', x: xOf(key), kid: thumbprintOf(xOf(key)) })),
})

const key = makeKey()
const kid = thumbprintOf(xOf(key))
function soldLot() {
  const lot = makeLot({ closesAt: 3_600_000 })
  lot.bid('4K', pounds(60), 1)
  lot.bid('7R', pounds(90), 2)
  lot.say({ kind: 'close' }, 3_600_000)
  return lot
}
const asText = (history: History) => JSON.stringify(history)

describe('the program for Node, of a history', () => {
  const jwks = keep('jwks.json', setOf(key))
  const history = soldLot().history(key)

  it('says that it holds, and by which key, for the reader to compare', () => {
    const { status, words } = run(keep('history.json', history), jwks)
    expect(words).toContain('Holds: the history of house.example/lots/7, 5 entries, sold')
    expect(words).toContain(`${kid}): compare it`)
    expect(status).toBe(0)
  })

  it('takes a key that was named, and no other', () => {
    const file = keep('history.json', history)
    expect(run(file, jwks, '--key', kid.slice(0, 16))).toMatchObject({ status: 0, words: expect.stringContaining('which you named') })
    const other = run(file, jwks, '--key', thumbprintOf(xOf(makeKey())))
    expect(other).toMatchObject({ status: 1, words: expect.stringContaining(`by a key that you did not name: `) })
    expect(other.words).toContain(kid)
  })

  const checkpoint = history.heads[1]?.checkpoint ?? ''
  const [, line = ''] = /— \S+ (\S+)/.exec(checkpoint) ?? []
  const bytes = Buffer.from(line, 'base64')
  bytes[0] = (bytes[0] ?? 0) ^ 1
  it.each<[string, string, RegExp]>([
    ['an amount changed', asText(history).replace('"standingMinor":6500', '"standingMinor":6600'), /do not lead to the head at 3/],
    ['the hash of a key changed', asText(history).replace(line, bytes.toString('base64')), /by a key that is in no key set/],
    ['a head left out', asText({ ...history, heads: history.heads.slice(1) }), /signed head is missing/],
    ['a name that stands twice', asText(history).replace('"lot":7', '"lot":8,"lot":7'), /stands twice/],
    ['a number spelt otherwise', asText(history).replace('"lot":7', '"lot":7.0'), /7\.0 is not spelt/],
    ['a cut', asText(history).slice(0, 900), /cut off/],
  ])('finds %s', (_, text, words) => {
    const told = run(keep('history.json', text), jwks)
    expect(told.words).toMatch(words)
    expect(told.status).toBe(1)
  })

  it('holds two of one lot against each other', () => {
    const lot = makeLot({ closesAt: 3_600_000 })
    lot.bid('4K', pounds(60), 1)
    const kept = keep('kept.json', lot.history(key))
    expect(run(keep('history.json', history), kept, jwks)).toMatchObject({
      status: 0,
      words: expect.stringContaining('one is the beginning'),
    })
    const other = makeLot({ closesAt: 3_600_000 })
    other.bid('9F', pounds(60), 1)
    expect(run(kept, keep('other.json', other.history(key)), jwks)).toMatchObject({
      status: 1,
      words: expect.stringContaining('contradict each other from entry 2 on'),
    })
  })
})

describe('the program for Node, of the end of a lot', () => {
  const jwks = keep('jwks.json', setOf(key))
  const runEnd = (change: (leaves: History['leaves']) => void, made = soldLot()) => {
    change(made.leaves)
    return run(keep('end.json', made.history(key)), jwks)
  }
  const withReserve = (closesAt = 3_600_000) => {
    const made = makeLot({ terms: makeTerms({ reserveMinor: pounds(500) }), closesAt })
    made.bid('4K', pounds(60), 1)
    made.say({ kind: 'close' }, closesAt)
    return made
  }
  const put = (leaves: History['leaves'], kind: string, change: object) => {
    const index = leaves.findIndex((leaf) => leaf.kind === kind)
    leaves[index] = { ...leaves[index], ...change } as History['leaves'][number]
  }

  it('holds where all was opened that has to be', () => {
    for (const made of [soldLot(), withReserve()]) expect(runEnd(() => {}, made).status).toBe(0)
    const held = makeLot({ closesAt: 3_600_000 })
    held.say({ kind: 'hold', reason: 'The stream broke off.' }, 1000)
    held.say({ kind: 'withdraw', reason: 'It fell off the table.' }, 4_000_000)
    expect(runEnd(() => {}, held).status).toBe(0)
  })

  it.each<[string, (leaves: History['leaves']) => void, RegExp, (() => ReturnType<typeof makeLot>)?]>([
    ['the maxima not opened', (leaves) => leaves.pop(), /its maxima were not opened with the end/],
    ['one maximum not opened', (leaves) => put(leaves, 'revealed', { openings: [], sealed: null }), /bid 1 was not opened/],
    ['a reserve not opened', (leaves) => put(leaves, 'revealed', { reserve: null }), /the reserve was not opened/, withReserve],
    [
      'a closing at another time',
      (leaves) => {
        for (const kind of ['closed', 'revealed']) put(leaves, kind, { at: new Date(3_600_001).toISOString() })
      },
      /\(closed\) does not/,
    ],
    [
      'a bid after the closing',
      (leaves) => Object.assign(leaves.findLast(({ kind }) => kind === 'bid') ?? {}, { at: new Date(3_600_000).toISOString() }),
      /\(bid\) does not/,
    ],
  ])('finds %s', (_, change, words, made = soldLot) => {
    expect(runEnd(change, made())).toMatchObject({ status: 1, words: expect.stringMatching(words) })
  })

  it('finds a lot withdrawn after its closing', () => {
    const made = makeLot({ closesAt: 3_600_000 })
    made.say({ kind: 'withdraw', reason: 'It fell off the table.' }, 1000)
    const late = (leaves: History['leaves']) => {
      for (const kind of ['withdrawn', 'revealed']) put(leaves, kind, { at: new Date(3_600_000).toISOString() })
    }
    expect(runEnd(late, made)).toMatchObject({ status: 1, words: expect.stringContaining('(withdrawn) does not keep to the closing') })
  })
})

describe('the program for Node, of several histories', () => {
  const lot = (...bidders: string[]) => {
    const made = makeLot({ closesAt: 3_600_000 })
    for (const [index, bidder] of bidders.entries()) made.bid(bidder, pounds(60 + index * 30), index + 1)
    return made
  }
  const stranger = makeKey()
  const jwks = keep('both.json', setOf(key, stranger))

  it('finds two that contradict each other behind a third, which is the beginning of both', () => {
    const files = [lot('4K'), lot('4K', '7R'), lot('4K', '9F')].map((one, index) => keep(`of-three-${index}.json`, one.history(key)))
    expect(run(...files, jwks)).toMatchObject({ status: 1, words: expect.stringContaining('contradict each other from entry 3 on') })
  })

  it('holds none by a stranger against the house’s, with the key of the house named or with none named', () => {
    const files = [keep('ours.json', lot('4K').history(key)), keep('theirs.json', lot('9F').history(stranger))]
    for (const words of [[], ['--key', kid]]) expect(run(...files, jwks, ...words).words).not.toContain('contradict')
  })

  it('repeats no state that the entries do not lead to', () => {
    const claimed = { ...lot('4K').history(key), state: 'sold' }
    expect(run(keep('claimed.json', claimed), jwks)).toMatchObject({
      status: 1,
      words: expect.stringContaining('its entries lead to open'),
    })
  })

  it('finds nothing to check in a file of no receipts', () => {
    const told = run(keep('empty.json', { kind: 'tagstrip-receipts', version: 1, receipts: [] }), jwks)
    expect(told).toMatchObject({ status: 2, words: expect.stringContaining('Nothing to check') })
    expect(told.words).not.toContain('Holds')
  })
})

describe('the program for Node, of what a house gives', () => {
  it('opens receipts, and finds an amount that was not bid and a history that left a bid out', async () => {
    const { number } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    const receipts = [await ada.bid(number, '50'), await ben.bid(number, '80'), await ada.bid(number, '120')].map(({ receipt }) => receipt)
    const jwks = keep('house.json', stage.house.keys.jwks())
    const file = { kind: 'tagstrip-receipts', version: 1, receipts }
    const history = readHistory(stage.sight(), number)
    expect(run(keep('receipts.json', file), jwks)).toMatchObject({ status: 0, words: expect.stringContaining('Holds: 3 receipts') })
    expect(run(keep('receipts.json', file), keep('live.json', history), jwks).words).toContain('compared with its history')
    const forged = JSON.parse(JSON.stringify(file))
    forged.receipts[0].opening.amountMinor += 100
    expect(run(keep('receipts.json', forged), jwks)).toMatchObject({ status: 1, words: expect.stringContaining('does not open what') })
    const shorter = { ...history, leaves: history.leaves.slice(0, -1), heads: history.heads.slice(0, -1) }
    expect(run(keep('receipts.json', file), keep('live.json', shorter), jwks)).toMatchObject({
      status: 1,
      words: expect.stringContaining('the history contradicts the receipt of bid 3'),
    })
  })

  it('reads a pack, and names the file of it that was changed', async () => {
    const house = openStage()
    await makeCampaign(house)
    const pack = readFileSync(await packInto(join(folder, 'pack.zip'), house))
    const { kid: houseKid } = house.house.keys
    house.close()
    const whole = run(keep('pack.zip', pack))
    expect(whole.words).toMatch(/Holds: the pack of .*, all \d+ files as they were signed/)
    expect(whole.words).toContain(houseKid)
    expect(whole.status).toBe(0)
    const stranger = run(keep('pack.zip', pack), '--key', kid)
    expect(stranger).toMatchObject({ status: 1, words: expect.stringContaining('by a key that you did not name') })
    const at = pack.indexOf('PK\u0003\u0004') + 200
    const changed = Buffer.from(pack)
    changed[at] = (changed[at] ?? 0) ^ 0xff
    expect(run(keep('pack.zip', changed)).status).toBe(1)
  }, 60_000)

  it('says what to give it when it is given nothing to check', () => {
    expect(run()).toMatchObject({ status: 2, words: expect.stringContaining('node tagstrip-check.mjs') })
  })
})
