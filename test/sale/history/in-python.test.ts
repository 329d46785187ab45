import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkHistory } from '#sale/history/check-history.rules'
import type { History } from '#sale/history/history.contract'
import { makeKey, makeLot, pounds } from '#test/make/lot-history'
import { anyDay, endDay, liveThrough } from '#test/make/random-day'
import { missingForPython as missing, verdictsInPython } from '#test/verifier/in-python'
import { chanceFrom, tamperWith } from '#test/verifier/tamper'

// A verifier in another language, written from `public/history-format.md` alone: Python's standard library, and openssl for
// Ed25519. `PYTHON=2000` looks at more.
const DAYS = Number(process.env.PYTHON ?? 24)
const key = makeKey()
const x = Buffer.from(key.raw).toString('base64url')

const title =
  missing.length === 0 ? 'the verifier in Python' : `NOT TRIED, since ${missing.join(' and ')} cannot be run here: the verifier in Python`
if (missing.length > 0) console.warn(title)

const verdictsOn = (files: readonly string[]) => verdictsInPython(files, x)

const days = (seed: number, many: number) => fc.sample(anyDay, { numRuns: many, seed }).map(liveThrough)
const copyOf = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T

describe.skipIf(missing.length > 0)(title, () => {
  it('finds every honest day honest, before its end and after it', () => {
    const files: string[] = []
    for (const day of days(16, DAYS)) {
      files.push(JSON.stringify(day.lot.history(key)))
      endDay(day)
      files.push(JSON.stringify(day.lot.history(key), null, 1))
    }
    expect(verdictsOn(files)).toEqual(files.map(() => 'holds'))
    expect(files.filter((file) => file.includes('"voided"')).length).toBeGreaterThan(DAYS / 4)
    expect(files.filter((file) => file.includes('"revealed"')).length).toBeGreaterThan(DAYS / 2)
  }, 600_000)

  it('refuses every one that was changed after it was signed', () => {
    const chance = chanceFrom(2027)
    const tampered = days(17, Math.ceil(DAYS / 3)).flatMap((day) => {
      endDay(day)
      const history = day.lot.history(key)
      return Array.from({ length: 12 }, () => tamperWith(history, chance))
    })
    const verdicts = verdictsOn(tampered.map(({ history }) => JSON.stringify(history)))
    expect(tampered.flatMap(({ words }, index) => (verdicts[index] === 'holds' ? [words] : []))).toEqual([])
    expect(verdicts).toHaveLength(tampered.length)
  }, 600_000)

  it('says of one that the house signed anew after a change what the house’s own check says', () => {
    const chance = chanceFrom(13)
    const forged = days(18, Math.ceil(DAYS / 2)).flatMap((day) => {
      if (chance(4) > 0) endDay(day)
      const { lot } = day
      return Array.from({ length: 4 }, () => signedAnew(lot, chance))
    })
    const verdicts = verdictsOn(forged.map(({ history }) => JSON.stringify(history)))
    const told = forged.map(({ words, history }, index) => ({
      words,
      said: verdicts[index],
      house: checkHistory(copyOf(history)).flatMap((finding) => (finding.isSound ? [] : [finding.words])),
    }))
    expect(told.filter(({ said, house }) => (said === 'holds') !== (house.length === 0))).toEqual([])
    expect(told.filter(({ house }) => house.length > 0).length).toBeGreaterThan(forged.length / 2)
    expect(told.filter(({ house }) => house.length === 0).length).toBeGreaterThan(0)
  }, 600_000)

  it('refuses a file in which two programs could read two things', () => {
    const lot = makeLot()
    lot.bid('4K', pounds(60), 1)
    const text = JSON.stringify(lot.history(key))
    const odd = [
      ['"lot":7,', '"lot":8,"lot":7,'],
      ['"lot":7,', '"l\\u006ft":8,"lot":7,'],
      ['"lot":7,', '"lot":7.0,'],
      ['"lot":7,', '"lot":7e0,'],
      ['"fromMinor":0,', '"fromMinor":-0,'],
      ['"version":1,', '"version":true,'],
      ['"hasReserve":false,', '"hasReserve":0,'],
      ['"sale":{', '"sale":{"__proto__":{},'],
      ['"sale":{', '"sale":{"more":9007199254740993,'],
      ['"sale":{', '"sale":{"more":"\\ud800",'],
      ['{', '\ufeff{'],
    ] as const
    const files = odd.map(([from, to]) => text.replace(from, to))
    expect(files).not.toContain(text)
    const verdicts = verdictsOn([text, ...files])
    expect(verdicts.map((verdict) => verdict.startsWith('refused'))).toEqual([false, ...odd.map(() => true)])
  })

  it('and one that is signed by another key', () => {
    expect(verdictsOn([JSON.stringify(makeLot().history(makeKey()))])[0]).toContain('is not signed by the house')
  })
})

/** One thing changed in the entries, and all heads signed anew by the house's own key. */
function signedAnew(lot: ReturnType<typeof makeLot>, chance: (below: number) => number): { words: string; history: History } {
  const kept = copyOf(lot.leaves)
  for (;;) {
    const { words, history } = tamperWith({ leaves: kept } as History, chance)
    const { leaves } = history as Partial<History>
    if (!Array.isArray(leaves) || leaves.length === 0 || leaves.some((leaf) => typeof leaf !== 'object' || leaf === null)) continue
    lot.leaves.splice(0, lot.leaves.length, ...leaves)
    const anew = copyOf(lot.history(key))
    lot.leaves.splice(0, lot.leaves.length, ...kept)
    return { words, history: anew }
  }
}
