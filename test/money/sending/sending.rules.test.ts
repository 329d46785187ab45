import { describe, expect, test } from 'vitest'
import { type BandTyped, linesForLot, postageFromBands, readBands } from '#money/sending/bands.rules'
import { dangerWords, hintsOfDanger } from '#money/sending/dangers.rules'
import { packingItems, sendingStage } from '#money/sending/packing.rules'
import { clockWords, problemState } from '#money/sending/problem.rules'
import { chargeableGrams, showGrams, volumetricGrams } from '#money/sending/weight.rules'

// Worked figures of volumetric weight: common practice, no source.
test.each([
  [[400, 300, 200], 5000, 3000, 4800],
  [[400, 300, 200], 6000, 3000, 4000],
  [[600, 400, 400], 5000, 10_000, 19_200],
  [[600, 400, 400], 6000, 10_000, 16_000],
  [[300, 200, 150], 5000, 1200, 1800],
  [[300, 200, 150], 6000, 1200, 1500],
] as const)('a parcel of %j mm over %i that weighs %i g is charged as %i g', (size, divisor, grams, charged) => {
  expect(chargeableGrams(grams, size, divisor)).toBe(charged)
})

test('a heavy parcel is charged by its weight, and a part of a gram counts as one', () => {
  expect(chargeableGrams(6000, [400, 300, 200], 5000)).toBe(6000)
  expect(volumetricGrams([101, 100, 100], 5000)).toBe(202)
  expect(volumetricGrams([101, 101, 100], 5000)).toBe(205)
  expect([showGrams(900), showGrams(2400), showGrams(2000), showGrams(1234)]).toEqual(['900 g', '2.4 kg', '2 kg', '1.234 kg'])
})

const at = (row: number, field: keyof BandTyped) => `rows.${row}.${field}`
const row = (zone: string, countries: string, upTo: string, amount: string): BandTyped => ({ zone, countries, upTo, amount })
const TABLE = [
  row('At home', 'GB', '2 kg', '4.50'),
  row('', '', '5000', '7.20'),
  row('Europe', 'DE, NO', '2000 g', '9'),
  row('Europe', '', '5 kg', '15.00'),
  row('Everywhere else', '*', '2 kg', '22'),
]

describe('the table of postage', () => {
  const bands = readBands(TABLE, 'GBP', at)

  test('a zone goes on in further rows, and gives the price of the first weight that reaches', () => {
    expect(bands).toHaveLength(5)
    expect(postageFromBands(bands, 'GB', 2000)).toEqual({ zone: 'At home', amountMinor: 450 })
    expect(postageFromBands(bands, 'GB', 2001)).toEqual({ zone: 'At home', amountMinor: 720 })
    expect(postageFromBands(bands, 'NO', 4800)).toEqual({ zone: 'Europe', amountMinor: 1500 })
    expect(postageFromBands(bands, 'JP', 100)).toEqual({ zone: 'Everywhere else', amountMinor: 2200 })
  })

  test('a parcel heavier than its zone takes has no postage, and the heaviest is said', () => {
    expect(postageFromBands(bands, 'JP', 2001)).toEqual({ heaviestGrams: 2000 })
    expect(postageFromBands([], 'GB', 10)).toBeNull()
  })

  test('a lot gets one line for each zone that takes it', () => {
    const { lines, tooHeavyFor } = linesForLot(bands, 4800)
    expect(lines.map(({ zone, amountMinor }) => [zone, amountMinor])).toEqual([
      ['At home', 720],
      ['Europe', 1500],
    ])
    expect(tooHeavyFor).toEqual(['Everywhere else'])
  })

  test.each([
    [[row('', 'GB', '2 kg', '4')], 'rows.0.zone'],
    [[row('At home', 'Britain', '2 kg', '4')], 'rows.0.countries'],
    [[row('At home', 'GB', '2,5', '4')], 'rows.0.upTo'],
    [[row('At home', 'GB', '0', '4')], 'rows.0.upTo'],
    [[row('At home', 'GB', '2 kg', '-4')], 'rows.0.amount'],
    [[row('At home', 'GB', '2 kg', '4'), row('', '', '1 kg', '5')], 'rows.1.upTo'],
    [[row('At home', 'GB', '2 kg', '4'), row('', '', '3 kg', '3.99')], 'rows.1.amount'],
    [[row('At home', 'GB', '2 kg', '4'), row('Islands', 'GB, IM', '2 kg', '5')], 'rows.1.countries'],
    [[row('At home', 'GB', '2 kg', '4'), row('At home', 'IE', '3 kg', '5')], 'rows.1.countries'],
  ])('a slip is named at its own cell: %j', (rows, field) => {
    expect(() => readBands(rows, 'GBP', at)).toThrow(
      expect.objectContaining({ fields: expect.objectContaining({ [field]: expect.any(String) }) }),
    )
  })
})

describe('cells and mains', () => {
  test('lithium-ion cells with a machine are UN 3481, and the carrier is to be asked', () => {
    const words = dangerWords({ cells: 'ion-inside', milliwattHours: 7400, mains: 'no' }).join(' ')
    expect(words).toContain('UN 3481')
    expect(words).toContain('ask your carrier')
    expect(words).not.toContain('above the 100 Wh')
  })

  test('100 Wh is a small battery and a milliwatt-hour more is not', () => {
    const says = (milliwattHours: number) =>
      dangerWords({ cells: 'ion-beside', milliwattHours, mains: 'no' }).join(' ').includes('above the 100 Wh')
    expect([says(100_000), says(100_001)]).toEqual([false, true])
  })

  test('nothing dangerous says nothing, and nothing ever says that it may go', () => {
    expect(dangerWords({ cells: 'none', milliwattHours: null, mains: 'no' })).toEqual([])
    const all = dangerWords({ cells: 'ion-inside', milliwattHours: 200_000, mains: 'yes' }).join(' ')
    expect(all).not.toMatch(/\b(is|are) (safe|allowed|lawful)\b/)
  })

  test('a caution that speaks of mains or cells is a reason to ask', () => {
    expect(hintsOfDanger(['Runs from 230 V.', 'A CR2032 keeps the time.'])).toEqual({
      cells: 'A CR2032 keeps the time.',
      mains: 'Runs from 230 V.',
    })
    expect(hintsOfDanger(['12 V only.'])).toEqual({ cells: null, mains: null })
  })
})

test('the packing list holds the machine, every extra and the papers; a customs draft only when it goes abroad', () => {
  const facts = {
    lot: 7,
    unit: 'TERN-03',
    design: 'Saltmarsh rev C',
    serial: 'TS-2027-0001-A',
    extras: ['A coil', 'A booklet'],
    cautions: [],
    boxCode: '7K3M-Q2XA',
  }
  const keys = (isAbroad: boolean) => packingItems({ ...facts, isAbroad }).map(({ key }) => key)
  expect(keys(false)).toEqual(['unit', 'extra-0', 'extra-1', 'card', 'cautions', 'disposal', 'credits', 'repeat', 'closed'])
  expect(keys(true)).toContain('customs')
})

test('a parcel goes from unpaid to arrived, one stage at a time', () => {
  const facts = {
    owedMinor: 1,
    hasAddress: false,
    items: [
      { key: 'a', isPacked: false },
      { key: 'b', isPacked: false },
    ],
    sentAt: null,
    arrivedAt: null,
  }
  const stages = [
    facts,
    { ...facts, owedMinor: 0 },
    { ...facts, owedMinor: 0, hasAddress: true },
    {
      ...facts,
      owedMinor: 0,
      hasAddress: true,
      items: [
        { key: 'a', isPacked: true },
        { key: 'b', isPacked: false },
      ],
    },
    {
      ...facts,
      owedMinor: 0,
      hasAddress: true,
      items: [
        { key: 'a', isPacked: true },
        { key: 'b', isPacked: true },
      ],
    },
    { ...facts, owedMinor: 0, sentAt: 5 },
    { ...facts, owedMinor: 0, sentAt: 5, arrivedAt: 6 },
  ].map(sendingStage)
  expect(stages).toEqual(['unpaid', 'no address', 'to pack', 'packing', 'packed', 'sent', 'arrived'])
})

test('the clock of a problem runs to the first answer and from each further word of the buyer, late by a millisecond is late', () => {
  const facts = { answerDueAt: 7_200_000, answeredAt: null, endedAt: null, lastSide: 'buyer' as const }
  expect([problemState(facts, 7_200_000), problemState(facts, 7_200_001)]).toEqual(['first answer due', 'first answer late'])
  expect(clockWords(facts, 0)).toBe('2 h 0 min left for the first answer')
  expect(clockWords(facts, 7_200_000 + 65 * 60_000)).toBe('1 h 5 min late with the first answer')
  expect(problemState({ ...facts, answeredAt: 5 }, 0)).toBe('waiting for us')
  expect(problemState({ ...facts, answeredAt: 5 }, 9e9)).toBe('answer late')
  expect(problemState({ ...facts, answeredAt: 5, lastSide: 'staff' }, 9e9)).toBe('waiting for the buyer')
  expect(clockWords({ ...facts, answeredAt: 5 }, 0)).toBe('2 h 0 min left for the next answer')
  expect(clockWords({ ...facts, answeredAt: 5, lastSide: 'staff' }, 9e9)).toBe('')
})
