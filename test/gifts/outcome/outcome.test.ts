import { describe, expect, test } from 'vitest'
import { becameSentence, type Outcome, type OutcomeLot, outcomeWords, raisedBy } from '#gifts/outcome/outcome.rules'
import { draftSoldThanks } from '#gifts/outcome/sold-letter.rules'

const lot = (number: number, hammerMinor: number | null): OutcomeLot => ({
  id: `lot-${number}`,
  number,
  title: 'Saltmarsh',
  state: hammerMinor === null ? 'open' : 'sold',
  hammerMinor,
})
const money = (minor: number) => (minor / 100).toFixed(2)
const machine = (tag: string, count: number, inLot: OutcomeLot | null) => ({
  unitId: tag,
  tag,
  designators: Array.from({ length: count }, (_one, index) => `Y${index + 1}`),
  lot: inLot,
})

const crystals: Outcome = {
  giftId: 'g1',
  what: 'crystals',
  kind: 'parts',
  quantity: 20,
  minutes: null,
  state: 'available',
  machines: [machine('TERN-01', 5, lot(1, 20000)), machine('TERN-02', 5, lot(2, 21200)), machine('TERN-05', 4, lot(5, 20000))],
  withLots: [],
  inHand: 4,
  failed: 2,
  isQuarantined: false,
}
const help: Outcome = {
  ...crystals,
  giftId: 'g2',
  what: 'winding coils',
  kind: 'labour',
  quantity: 0,
  minutes: 240,
  inHand: 0,
  failed: 0,
  machines: [machine('TERN-01', 0, lot(1, 20000))],
}

describe('what became of a gift', () => {
  test('in the words of the domain', () => {
    expect(outcomeWords(crystals, money)).toBe(
      'Your 20 × crystals: 14 fitted in TERN-01, -02 and -05, 4 kept as spares, 2 failed. Those three lots raised 612.00 together.',
    )
  })

  test('help has helped; it is given in hours and has no value', () => {
    expect(outcomeWords(help, money)).toBe('Your 4 h of help: winding coils: it helped to make TERN-01. That lot raised 200.00.')
  })

  test('an open lot has raised nothing yet, and a lot counts once however many gifts are in it', () => {
    expect(raisedBy([{ ...crystals, machines: [machine('TERN-01', 5, lot(1, null))] }])).toBeNull()
    expect(raisedBy([crystals, help])).toEqual({ lots: 3, minor: 61200, numbers: [1, 2, 5], isAll: true })
  })

  test('where another machine with it has not been sold, the sold ones are named', () => {
    const [first, second, third] = crystals.machines
    if (!first || !second || !third) throw new Error('three machines')
    const open = { ...third, lot: lot(5, null) }
    expect(outcomeWords({ ...crystals, machines: [first, second, open] }, money)).toContain('Lots 1 and 2 raised 412.00 together.')
    expect(outcomeWords({ ...crystals, machines: [first, open] }, money)).toContain('Lot 1 raised 200.00.')
  })

  test('an extra goes with its lot', () => {
    const extra = {
      ...crystals,
      kind: 'extras' as const,
      what: 'a coil of aerial wire',
      quantity: 1,
      machines: [],
      withLots: [lot(7, null)],
      inHand: 0,
      failed: 0,
    }
    expect(becameSentence(extra)).toBe('It goes with lot 7.')
  })

  test('what has only arrived has nothing to tell', () => {
    expect(becameSentence({ ...crystals, state: 'counted', machines: [], inHand: 0, failed: 0 })).toBe('')
  })

  test('a letter about several gifts names each and their lots together, and no value of a gift', () => {
    const { body } = draftSoldThanks({
      changed: [],
      name: 'Ines',
      campaign: 'Long Bench Day',
      cause: 'the school',
      outcomes: [crystals, help],
      money,
      ownPage: 'https://bench.example/yours',
    })
    expect(body).toContain('- Your 20 × crystals: 14 fitted')
    expect(body).toContain('Altogether, 3 lots with your gifts in them raised 612.00.')
    expect(body).not.toMatch(/worth|value/)
  })
})
