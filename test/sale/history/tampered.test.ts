import { createPublicKey, verify } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { readStrictJson } from '#kernel/strict-json'
import { checkHistory, signedHeads } from '#sale/history/check-history.rules'
import { isKeyOf } from '#sale/history/checkpoint.rules'
import { historyShape } from '#sale/history/history.contract'
import { makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'
import { chanceFrom, tamperWith } from '#test/verifier/tamper'
import { verifyHistory, verifyHistoryText } from '#test/verifier/verify-history'

// `npm run tamper` looks at fifty times as many.
const TAMPERED = Number(process.env.TAMPERED ?? 2000)
const key = makeKey()
const x = Buffer.from(key.raw).toString('base64url')
const publicKey = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' })
const CLOSES = 60 * MINUTE

const lots = {
  'with everything in it': () => {
    const lot = makeLot({ closesAt: CLOSES, terms: makeTerms({ reserveMinor: pounds(100) }) })
    lot.bid('4K', pounds(60), SECOND)
    lot.bid('7R', pounds(150), 2 * SECOND)
    lot.say({ kind: 'hold', reason: 'Sound.' }, MINUTE)
    lot.say({ kind: 'resume', shiftMs: 10 * SECOND }, MINUTE + 10 * SECOND)
    lot.bid('9F', pounds(400), 2 * MINUTE)
    lot.say({ kind: 'void', bidder: '9F', reason: 'Bid in error.' }, 3 * MINUTE)
    lot.say({ kind: 'extend', closesAt: CLOSES + MINUTE, reason: 'The guest is still talking.' }, 4 * MINUTE)
    lot.say({ kind: 'correct', words: 'The case is beech.' }, 5 * MINUTE)
    lot.bid('4K', pounds(200), CLOSES)
    lot.say({ kind: 'outage', from: CLOSES, to: CLOSES + 20 * SECOND, shiftMs: 20 * SECOND }, CLOSES + 20 * SECOND)
    lot.bid('7R', pounds(230), CLOSES + 30 * SECOND)
    lot.say({ kind: 'close' }, CLOSES + 60 * MINUTE)
    return lot
  },
  'that did not sell': () => {
    const lot = makeLot({ closesAt: CLOSES, terms: makeTerms({ reserveMinor: pounds(500) }) })
    lot.bid('4K', pounds(60), SECOND)
    lot.bid('7R', pounds(60), CLOSES - SECOND)
    lot.say({ kind: 'close' }, CLOSES + MINUTE)
    return lot
  },
  'that was withdrawn on hold': () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(60), SECOND)
    lot.say({ kind: 'hold', reason: 'Smoke.' }, MINUTE)
    lot.say({ kind: 'withdraw', reason: 'It burnt.' }, 2 * MINUTE)
    return lot
  },
  'that is open': () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(60), SECOND)
    lot.bid('4K', pounds(90), 2 * SECOND)
    return lot
  },
}

/** The house's own check, with the signatures that a browser verifies beside it. */
function holdsHere(given: unknown): boolean {
  if (checkHistory(given).some(({ isSound }) => !isSound)) return false
  return signedHeads(historyShape.parse(given)).every(
    (note) => isKeyOf(note, key.raw) && verify(null, Buffer.from(note.text), publicKey, note.signature),
  )
}

function holdsThere(given: unknown): boolean {
  try {
    verifyHistory(given, [x])
    return true
  } catch {
    return false
  }
}

describe.each(Object.entries(lots))('the history of a lot %s', (_, make) => {
  const history = make().history(key)

  it('holds for both checkers', () => {
    expect(holdsHere(history)).toBe(true)
    expect(() => verifyHistory(JSON.parse(JSON.stringify(history)), [x])).not.toThrow()
  })

  it('tampered with at random is found by both, every time', () => {
    const chance = chanceFrom(20_270_313)
    const missed: string[] = []
    for (let round = 0; round < TAMPERED / Object.keys(lots).length; round++) {
      const { words, history: tampered } = tamperWith(history, chance)
      if (holdsHere(tampered)) missed.push(`${words}, not found here`)
      if (holdsThere(tampered)) missed.push(`${words}, not found there`)
    }
    expect(missed).toEqual([])
  }, 3_600_000)

  it('signed by another key is found by both', () => {
    const other = make().history(makeKey())
    expect([holdsHere(other), holdsThere(other)]).toEqual([false, false])
  })
})

describe('a house that signs anew what it changed', () => {
  const names = [
    'standingMinor',
    'leader',
    'why',
    'closesAt',
    'hammerMinor',
    'result',
    'sealed',
    'sequence',
    'commitment',
    'shiftMs',
    'amountMinor',
  ]

  it('is found by both, whichever entry and whichever of the rule’s own names it changed', () => {
    const missed: string[] = []
    const count = lots['with everything in it']().leaves.length
    for (let index = 0; index < count; index++) {
      for (const name of names) {
        const lot = lots['with everything in it']()
        const leaf = lot.leaves[index] as unknown as Record<string, unknown>
        if (!(name in leaf)) continue
        const was = leaf[name]
        leaf[name] =
          typeof was === 'number' ? was + 1 : name === 'closesAt' ? '2027-03-13T12:00:00.000Z' : was === 'sold' ? 'unsold' : 'cap'
        if (was === leaf[name]) continue
        const again = JSON.parse(JSON.stringify(lot.history(key)))
        if (holdsHere(again)) missed.push(`${name} of entry ${index + 1}, not found here`)
        if (holdsThere(again)) missed.push(`${name} of entry ${index + 1}, not found there`)
      }
    }
    expect(missed).toEqual([])
  })

  it('is found by both when a bid was lower than it had to be', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(60), 1)
    lot.bid('7R', pounds(40), 2)
    lot.bid('9F', pounds(43), 3)
    lot.say({ kind: 'close' }, CLOSES)
    expect(lot.leaves).toHaveLength(5)
    const forged = makeLot({ closesAt: CLOSES, isLax: true })
    forged.bid('4K', pounds(60), 1)
    forged.bid('7R', pounds(40), 2)
    forged.bid('9F', pounds(41), 3)
    forged.say({ kind: 'close' }, CLOSES)
    const again = forged.history(key)
    expect([holdsHere(again), holdsThere(again)]).toEqual([false, false])
  })
})

describe('the text of a history', () => {
  const text = JSON.stringify(lots['with everything in it']().history(key))
  const readsHere = (given: string): boolean => {
    try {
      return holdsHere(readStrictJson(given))
    } catch {
      return false
    }
  }
  const readsThere = (given: string): boolean => {
    try {
      verifyHistoryText(given, [x])
      return true
    } catch {
      return false
    }
  }

  it('holds for both checkers, also when it was written out with spaces', () => {
    for (const given of [text, JSON.stringify(JSON.parse(text), null, 2)])
      expect([readsHere(given), readsThere(given)]).toEqual([true, true])
  })

  it.each([
    ['a name twice, the last as it was', '"lot":7,', '"lot":8,"lot":7,'],
    ['a name twice in an entry', '"sequence":1,', '"sequence":9,"sequence":1,'],
    ['a name twice, once escaped', '"lot":7,', '"l\\u006ft":8,"lot":7,'],
    ['a number with a point', '"lot":7,', '"lot":7.0,'],
    ['a number with an exponent', '"lot":7,', '"lot":7e0,'],
    ['a nought below nought', '"fromMinor":0,', '"fromMinor":-0,'],
    ['a number that is not exact', '"version":1,', '"version":1,"more":9007199254740993,'],
    ['the name of a prototype', '"sale":{', '"sale":{"__proto__":{},'],
  ])('with %s is refused by both', (_, from, to) => {
    const given = text.replace(from, to)
    expect(given).not.toBe(text)
    expect([readsHere(given), readsThere(given)]).toEqual([false, false])
  })
})

it('the document names every kind of entry and every name in them', () => {
  const text = readFileSync(join(import.meta.dirname, '..', '..', '..', 'public', 'history-format.md'), 'utf8')
  for (const make of Object.values(lots))
    for (const leaf of make().leaves) for (const name of [leaf.kind, ...Object.keys(leaf)]) expect(text).toContain(`\`${name}\``)
})
