import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { consentsNow, consentWords } from '#stock/donors/consent.rules'
import { type Creditable, creditedNames, creditLine } from '#stock/donors/credit.rules'
import { type Consents, GIFT_STATES } from '#stock/donors/donor.contract'
import { decideMove, isOutstanding, mayGoTo, movesFrom, type PromisedLine as Promised, suggestPromises } from '#stock/donors/gift.rules'

describe('a gift line moves', () => {
  test.each([
    ['promised', 'on its way'],
    ['on its way', 'arrived'],
    ['arrived', 'counted'],
    ['counted', 'inspected'],
    ['inspected', 'available'],
    ['available', 'fitted'],
    ['available', 'spare'],
  ] as const)('from %s to %s', (from, to) => {
    expect(decideMove(from, to, '')).toEqual({ ok: true })
  })

  test('a promise cannot become available without having arrived', () => {
    expect(decideMove('promised', 'available', '')).toEqual({
      ok: false,
      field: 'to',
      words: 'A gift cannot go from "promised" to "available". From "promised" it can go to on its way, arrived or declined.',
    })
  })

  test('suspect pieces are never given back or passed on', () => {
    expect(movesFrom('quarantined')).not.toContain('returned')
    expect(movesFrom('quarantined')).not.toContain('available')
  })

  test.each(['declined', 'quarantined', 'returned', 'destroyed'] as const)('what is %s needs a reason', (to) => {
    const from = GIFT_STATES.find((state) => movesFrom(state).includes(to)) ?? 'promised'
    expect(decideMove(from, to, '  ')).toEqual({ ok: false, field: 'reason', words: `Say why it is ${to}.` })
    expect(decideMove(from, to, 'wrong type')).toEqual({ ok: true })
  })

  test.each(['declined', 'returned', 'destroyed'] as const)('%s is the end', (state) => {
    expect(movesFrom(state)).toEqual([])
    expect(decideMove(state, 'arrived', 'x')).toMatchObject({
      ok: false,
      words: expect.stringContaining(`A gift that was ${state} stays so.`),
    })
  })

  test('no state leads to itself, and nothing arrives twice', () => {
    for (const state of GIFT_STATES) {
      expect(movesFrom(state)).not.toContain(state)
      if (!isOutstanding(state)) expect(movesFrom(state)).not.toContain('arrived')
    }
  })
})

const promised = (giftId: string, quantity: number, promisedAt: number, more: Partial<Promised> = {}): Promised => ({
  giftId,
  donorId: 'ines',
  partId: 'display',
  words: '',
  quantity,
  promisedAt,
  ...more,
})

describe('what came is laid against what was promised', () => {
  test('all of it', () => {
    expect(suggestPromises([promised('a', 6, 1)], 'ines', 'display', 6)).toEqual({
      takes: [{ giftId: 'a', came: 6, stillPromised: 0 }],
      unpromised: 0,
    })
  })

  test('a partial arrival leaves the rest promised', () => {
    expect(suggestPromises([promised('a', 6, 1)], 'ines', 'display', 4)).toEqual({
      takes: [{ giftId: 'a', came: 4, stillPromised: 2 }],
      unpromised: 0,
    })
  })

  test('more than was promised is unpromised', () => {
    expect(suggestPromises([promised('a', 6, 1)], 'ines', 'display', 8).unpromised).toBe(2)
  })

  test('the promise of exactly that many comes first, then the oldest', () => {
    const waiting = [promised('old', 5, 1), promised('exact', 6, 2)]
    expect(suggestPromises(waiting, 'ines', 'display', 6).takes.map((take) => take.giftId)).toEqual(['exact'])
    expect(suggestPromises(waiting, 'ines', 'display', 7).takes.map((take) => take.giftId)).toEqual(['old', 'exact'])
  })

  test('promises of another donor or of another part are left alone', () => {
    const others = [promised('a', 6, 1, { donorId: 'tomas' }), promised('b', 6, 1, { partId: 'crystal' })]
    expect(suggestPromises(others, 'ines', 'display', 6)).toEqual({ takes: [], unpromised: 6 })
  })

  test('nothing is lost: what was taken and what was not make what came', () => {
    const any = fc.array(fc.record({ quantity: fc.integer({ min: 1, max: 50 }), promisedAt: fc.nat(9) }), { maxLength: 6 })
    fc.assert(
      fc.property(any, fc.integer({ min: 1, max: 200 }), (rows, quantity) => {
        const waiting = rows.map((row, index) => promised(`g${index}`, row.quantity, row.promisedAt))
        const { takes, unpromised } = suggestPromises(waiting, 'ines', 'display', quantity)
        expect(takes.reduce((sum, take) => sum + take.came, unpromised)).toBe(quantity)
        for (const take of takes) {
          expect(take.came).toBeGreaterThan(0)
          expect(take.came + take.stillPromised).toBe(waiting.find((each) => each.giftId === take.giftId)?.quantity)
        }
        if (unpromised > 0) expect(takes.every((take) => take.stillPromised === 0)).toBe(true)
      }),
    )
  })
})

describe('a restricted gift goes where its donor said, or nowhere', () => {
  const tern = { unitId: 'tern-03', designId: 'saltmarsh' }
  test.each([
    [{ onlyForUnitId: null, onlyForDesignId: null }, true],
    [{ onlyForUnitId: 'tern-03', onlyForDesignId: null }, true],
    [{ onlyForUnitId: 'tern-04', onlyForDesignId: null }, false],
    [{ onlyForUnitId: null, onlyForDesignId: 'saltmarsh' }, true],
    [{ onlyForUnitId: null, onlyForDesignId: 'tidemill' }, false],
  ])('%j: %s', (restriction, may) => {
    expect(mayGoTo(restriction, tern)).toBe(may)
  })
})

describe('consent is given per use and withdrawn at once', () => {
  test('the latest word counts, and silence is no', () => {
    const lines = [
      { use: 'page', given: true, at: 1 },
      { use: 'stream', given: true, at: 1 },
      { use: 'page', given: false, at: 2 },
    ] as const
    expect(consentsNow(lines)).toEqual({ page: false, stream: true, card: false })
    expect(consentsNow([])).toEqual({ page: false, stream: false, card: false })
  })

  test('it is said in words', () => {
    expect(consentWords({ page: true, stream: true, card: false })).toBe('On the page and on stream, yes; on a printed card, no.')
    expect(consentWords({ page: true, stream: true, card: true })).toBe('On the page, on stream and on a printed card, yes.')
    expect(consentWords({ page: false, stream: false, card: false })).toBe('On the page, on stream and on a printed card, no.')
  })
})

const all: Consents = { page: true, stream: true, card: true }
const giver = (donorId: string, creditName: string, more: Partial<Creditable> = {}): Creditable => ({
  donorId,
  creditName,
  sayIt: '',
  anonymity: 'named',
  approved: true,
  consents: all,
  ...more,
})

describe('credits name those who may be named', () => {
  test('in the order of their names, each once', () => {
    const donors = [giver('2', 'Tomas Berg'), giver('1', 'ines Abreu'), giver('2', 'Tomas Berg')]
    expect(creditedNames(donors, 'page').names.map(({ name }) => name)).toEqual(['ines Abreu', 'Tomas Berg'])
  })

  test('a donor who withdraws consent for the stream vanishes from the stream and stays on the page', () => {
    const donors = [giver('1', 'Ines Abreu', { consents: { ...all, stream: false } })]
    expect(creditedNames(donors, 'stream')).toEqual({ names: [], friends: 0, unnamed: 1 })
    expect(creditedNames(donors, 'page').names).toHaveLength(1)
  })

  test('a name that is not approved yet is not shown', () => {
    expect(creditedNames([giver('1', 'Buy my things', { approved: false })], 'page')).toEqual({ names: [], friends: 0, unnamed: 1 })
  })

  test.each([
    ['friend', { names: [], friends: 1, unnamed: 0 }],
    ['maker-only', { names: [], friends: 0, unnamed: 1 }],
    ['unknown', { names: [], friends: 0, unnamed: 1 }],
  ] as const)('anonymous as %s: no name is shown', (anonymity, credits) => {
    expect(creditedNames([giver('1', 'Ines Abreu', { anonymity })], 'page')).toEqual(credits)
  })

  test('the line reads as one says it', () => {
    const friends = [giver('3', 'x', { anonymity: 'friend' }), giver('4', 'y', { anonymity: 'friend' })]
    expect(creditLine(creditedNames([], 'page'))).toBe('')
    expect(creditLine(creditedNames([giver('1', 'Ines Abreu')], 'page'))).toBe('Ines Abreu')
    expect(creditLine(creditedNames([giver('1', 'Ines Abreu'), giver('2', 'Tomas Berg'), ...friends], 'page'))).toBe(
      'Ines Abreu, Tomas Berg and two friends',
    )
  })
})
