import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { thumbprintOf } from '#bench/certificates/key-set.rules'
import { MINUTE, SECOND, toIso } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import type { Leaf } from '#sale/history/history.contract'
import { makeKey, makeLot, pounds, theTwo } from '#test/make/lot-history'
import { missingForPython, verdictsInPython } from '#test/verifier/in-python'
import { verifyHistory } from '#test/verifier/verify-history'

const program = join(import.meta.dirname, '..', '..', '..', 'public', 'tagstrip-check.mjs')
const folder = mkdtempSync(join(tmpdir(), 'tagstrip-closing-'))
afterAll(() => rmSync(folder, { recursive: true }))

const CLOSES = 60 * MINUTE
const key = makeKey()
const x = Buffer.from(key.raw).toString('base64url')
type Lot = ReturnType<typeof makeLot>

/** What the house's own check says against it, in words, and whether the others refuse it; Python where it can be run. */
function found(lot: Lot, state: string = lot.state.phase): { words: string; refused: boolean[] } {
  const history = JSON.parse(JSON.stringify({ ...lot.history(key), state }))
  const words = checkHistory(history).find(({ isSound }) => !isSound)?.words ?? 'nothing'
  const inPython = missingForPython.length > 0 ? [] : verdictsInPython([JSON.stringify(history)], x)
  return { words, refused: [refusedThere(history), refusedByProgram(history), ...inPython.map((verdict) => verdict !== 'holds')] }
}

/** The program for Node works out no price, but everything that follows from the order of the entries. */
function refusedByProgram(history: object): boolean {
  const jwks = { keys: [{ kty: 'OKP', crv: 'Ed25519', x, kid: thumbprintOf(x) }] }
  const names = Object.entries({ jwks, history }).map(([name, content]) => {
    writeFileSync(join(folder, `${name}.json`), JSON.stringify(content))
    return join(folder, `${name}.json`)
  })
  return spawnSync(process.execPath, [program, ...names]).status !== 0
}

const expectHeld = ({ words, refused }: ReturnType<typeof found>) => {
  expect(words).toBe('nothing')
  expect(refused).not.toContain(true)
}

const expectFound = ({ words, refused }: ReturnType<typeof found>, expected: string) => {
  expect(words).toContain(expected)
  expect(refused).not.toContain(false)
}

function refusedThere(history: unknown): boolean {
  try {
    verifyHistory(history, [x])
    return false
  } catch {
    return true
  }
}

/** A lot with one bid, and then entries that no rule of the house let in but that it signed. */
function lotWith(entries: readonly Leaf[], before?: (lot: Lot) => void): Lot {
  const lot = makeLot({ closesAt: CLOSES })
  lot.bid('4K', pounds(60), MINUTE)
  before?.(lot)
  lot.leaves.push(...entries)
  return lot
}

const [late, later] = [CLOSES + 10 * MINUTE, CLOSES + 25 * MINUTE]
const outage = (from: number, to: number, shiftMs: number, at = to): Leaf => ({
  kind: 'outage',
  at: toIso(at),
  from: toIso(from),
  to: toIso(to),
  shiftMs,
  closesAt: toIso(CLOSES + shiftMs),
})
const withdrawn: Leaf[] = [
  { kind: 'withdrawn', at: toIso(late), by: 'maker', reason: 'Later.' },
  { kind: 'revealed', at: toIso(late), openings: makeOpenings(), reserve: null, sealed: null },
]

function makeOpenings() {
  const lot = makeLot({ closesAt: CLOSES })
  lot.bid('4K', pounds(60), MINUTE)
  return lot.openings
}

const held = (at: number): Leaf => ({ kind: 'held', at: toIso(at), by: 'host', reason: 'Sound.' })
const NOTHING_MORE = 'stands at or after the closing'

describe('a lot whose closing has come', () => {
  it.each<[string, Leaf[], string]>([
    [
      'is given more time by the host',
      [{ kind: 'extended', at: toIso(late), by: 'host', reason: 'Later.', closesAt: toIso(later) }],
      NOTHING_MORE,
    ],
    [
      'is given more time at that very instant',
      [{ kind: 'extended', at: toIso(CLOSES), by: 'programme', reason: 'Later.', closesAt: toIso(later) }],
      NOTHING_MORE,
    ],
    [
      'is put on hold and goes on',
      [held(late), { kind: 'resumed', at: toIso(late), by: 'host', shiftMs: later - CLOSES, closesAt: toIso(later) }],
      NOTHING_MORE,
    ],
    [
      'loses its bidder',
      [
        {
          kind: 'voided',
          at: toIso(late),
          alias: '4K',
          by: 'two of the staff',
          reason: 'In error.',
          ...theTwo(late),
          standingMinor: null,
          leader: null,
          why: null,
          closesAt: toIso(later),
        },
      ],
      NOTHING_MORE,
    ],
    ['is corrected', [{ kind: 'corrected', at: toIso(late), by: 'maker', words: 'The case is beech.' }], NOTHING_MORE],
    ['is withdrawn', withdrawn, NOTHING_MORE],
    ['is opened again by an outage', [outage(CLOSES + 2 * MINUTE, CLOSES + 4 * MINUTE, 60 * MINUTE)], 'began at or after the closing'],
    ['is opened again by an outage from that instant', [outage(CLOSES, CLOSES + 4 * MINUTE, 60 * MINUTE)], 'began at or after the closing'],
  ])('and that %s is found by every checker', (_, entries, words) => {
    expectFound(found(lotWith(entries), entries === withdrawn ? 'withdrawn' : 'open'), words)
  })

  it('while it is on hold may be given time, corrected, voided and go on, as the house does it', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(60), MINUTE)
    lot.say({ kind: 'hold', reason: 'Sound.' }, CLOSES - 1)
    expect(lot.say({ kind: 'correct', words: 'The case is beech.' }, late)).toBeNull()
    expect(lot.say({ kind: 'void', bidder: '4K', reason: 'In error.' }, late)).toBeNull()
    expect(lot.say({ kind: 'extend', closesAt: later, reason: 'Later.' }, late)).toBeNull()
    expectHeld(found(lot))
    expect(lot.say({ kind: 'resume', shiftMs: 15 * MINUTE }, later)).toBeNull()
    expect(lot.say({ kind: 'close' }, later + 16 * MINUTE)).toBeNull()
    expectHeld(found(lot))
  })

  it('while the house was silent is told of when it is back, and closes at the closing that it has then, however late that is written', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(60), CLOSES - 5 * SECOND)
    const closesAt = CLOSES + 2 * MINUTE - 5 * SECOND
    expect(lot.state.closesAt).toBe(closesAt)
    expect(lot.say({ kind: 'outage', from: closesAt - 1, to: later, shiftMs: later + 15 * MINUTE - closesAt }, later)).toBeNull()
    expect(lot.say({ kind: 'close' }, later + 40 * MINUTE)).toBeNull()
    expect(lot.leaves.at(-1)?.at).toBe(toIso(later + 15 * MINUTE))
    expectHeld(found(lot))
  })
})

describe('an outage', () => {
  it.each<[string, Leaf, string]>([
    ['that is still to come when it is told', outage(5 * 60 * MINUTE, 6 * 60 * MINUTE, 0, 10 * MINUTE), 'at another time than it ended'],
    ['that was over long before it is told', outage(10 * MINUTE, 14 * MINUTE, 0, 20 * MINUTE), 'at another time than it ended'],
    ['from before the opening', outage(-500 * MINUTE, 20 * MINUTE, 0), 'began before the entry before it'],
    ['in which a bid was taken', outage(MINUTE - 5 * SECOND - 1, 4 * MINUTE, 0), 'began before the entry before it'],
  ])('%s is found by every checker', (_, entry, words) => {
    expectFound(found(lotWith([entry])), words)
  })

  it('of a lot on hold is found by every checker', () => {
    const lot = lotWith([outage(11 * MINUTE, 12 * MINUTE, 0)], (one) => one.say({ kind: 'hold', reason: 'Sound.' }, 10 * MINUTE))
    expectFound(found(lot), 'came while the clocks stood')
  })

  it('that begins with the last second in which an earlier house noted that it was alive holds', () => {
    expectHeld(found(lotWith([outage(MINUTE - 5 * SECOND, 4 * MINUTE, 0)])))
  })
})
