import { describe, expect, it, test } from 'vitest'
import { instrumentDoubt } from '#bench/units/doubt.rules'
import type { Taken } from '#bench/units/judged.rules'
import { judgeReading } from '#bench/units/reading.rules'
import { readFigures } from '#bench/units/repeats.rules'
import { check } from './make'

const METER = { name: 'Bench meter', accuracy: 'V ±(0.5 % + 2 digits); Ω ±(0.8 % + 2 digits); 6000 counts' }
const LIMITS = check('R1', 1, { nominal: 8, lower: 7.7, upper: 8.3 })
const judge = (entry: string, over: Partial<Taken> = {}) =>
  judgeReading({ check: LIMITS, rule: 'guarded-with-doubt', entry, instrument: METER, ...over })
const judged = (entry: string, over: Partial<Taken> = {}) => {
  const answer = judge(entry, over)
  if (!answer.ok) throw new Error(`${answer.field}: ${answer.words}`)
  return answer.judged
}
const words = (entry: string, over: Partial<Taken> = {}) => {
  const answer = judge(entry, over)
  return answer.ok ? `${answer.judged.verdict}: ${answer.judged.entry}` : `${answer.field}: ${answer.words}`
}

describe('the doubt of a reading', () => {
  it('does not hang on how many noughts are typed', () => {
    expect(judged('8.25').verdict).toBe('pass within doubt')
    expect(judged('8.2500')).toMatchObject({ verdict: 'pass within doubt', expandedUncertainty: judged('8.25').expandedUncertainty })
  })

  it('decides nothing where nobody knows how large a digit is', () => {
    const blind = { name: 'Old meter', accuracy: '±(0.5 % + 2 digits)' }
    expect(words('8.25', { instrument: blind })).toContain('instrumentId: Old meter states its accuracy in digits')
    expect(judged('8.25', { instrument: blind, rule: 'simple' }).verdict).toBe('pass')
  })

  it('is one rectangle for U and for the chance: half of a inside the limit is 75 %', () => {
    const fixed = { name: 'Fixed', accuracy: '±0.1 V' }
    expect(judged('8.25', { instrument: fixed }).conformity).toBeCloseTo(0.75, 12)
  })

  it('grows by what else is written down, and is normal then', () => {
    const fixed = { name: 'Fixed', accuracy: '±0.1 V' }
    const more = judged('8.25', { instrument: fixed, further: 'probe 1 %; leads 20 mV' })
    const u = Math.hypot(0.1, 0.0825, 0.02) / Math.sqrt(3)
    expect(more.standardUncertainty).toBeCloseTo(u, 12)
    expect(words('8.25', { further: 'probe' })).toContain('further: "probe" was not understood')
  })
})

describe('readings that were repeated', () => {
  it('give their mean, and their spread enters the doubt', () => {
    const one = judged('8.02')
    const three = judged('8.01; 8.02; 8.03')
    expect(three.entry).toBe('8.020 V, mean of 3, spread 0.01')
    expect(three.value).toBe(8.02)
    expect(three.standardUncertainty).toBeCloseTo(Math.hypot(one.standardUncertainty ?? 0, (0.01 / Math.sqrt(3)) * (4.53 / 2)), 6)
    expect(words(Array(11).fill('8').join(';'))).toContain('at most 10 readings')
  })
})

test('what is typed several times is doubted on the form as it is kept', () => {
  const instrument = { name: 'Plain', accuracy: '±1 %' }
  const typed = readFigures('8.01; 8.02; 8.03', 'V')
  expect(typed).toMatchObject({ value: 8.02, repeats: [8.01, 8.02, 8.03] })
  const doubt = typed && instrumentDoubt(typed, { unit: 'V' }, instrument, typed.repeats)
  const kept = judged('8.01; 8.02; 8.03', { instrument })
  if (doubt === null || typeof doubt === 'string') throw new Error('there is a doubt')
  expect(doubt.expanded).toBeCloseTo(kept.expandedUncertainty ?? 0, 12)
  expect(doubt.lines[0]).toMatchObject({ words: '1 % of the reading', halfWidth: expect.closeTo(0.0802, 9) })
  expect(doubt.further).toMatchObject([{ words: 'the spread of 3 readings' }])
  expect(readFigures('8.01; ', 'V')).toBeNull()
})

describe('odd values ask', () => {
  const ohms = check('K1', 1, { unit: 'kΩ', nominal: 4.7, lower: 4, upper: null })
  test.each<[string, Partial<Taken>, string]>([
    ['900000', {}, 'confirmOdd: 900000 V, where 8 V is expected: is that what it shows?'],
    ['-8.02', {}, 'confirmOdd: −8.02 V, where 8 V is expected: is the sign right?'],
    ['-4.7', { check: ohms }, 'confirmOdd: −4.7 kΩ: nothing has less than 0 kΩ. Is that what it shows?'],
    ['-0.77', { check: check('L1', 1, { unit: 'µA', nominal: 0.1, lower: null, upper: 5 }), rule: 'simple' }, 'pass: −0.77 µA'],
    ['-8.02', { confirmOdd: true }, 'fail: −8.02 V'],
  ])('%s', (entry, over, expected) => expect(words(entry, over)).toBe(expected))
})

describe('over and under its range is an answer', () => {
  const least = check('K1', 1, { unit: 'MΩ', nominal: null, lower: 10, upper: null })
  const most = check('K2', 1, { unit: 'mV', nominal: null, lower: null, upper: 5 })
  const ranged = { name: 'Ranged', accuracy: '60.00 MΩ ±(1 % + 2 digits)' }
  const meter = { name: 'Meter', accuracy: '60.00 mV ±(1 % + 2 digits); 6.000 V ±(1 % + 2 digits); 600.0 V ±(1 % + 2 digits)' }
  test.each<[string, Partial<Taken>, string]>([
    ['OL', { check: least, instrument: ranged }, 'pass: more than 60.00 MΩ'],
    ['>60M', { check: least }, 'pass: more than 60 MΩ'],
    ['>6M', { check: least }, 'entry: "more than 6 MΩ" does not decide'],
    ['OL', { check: least }, 'entry: Write the top of the range'],
    ['OL', { check: most, instrument: meter }, 'fail: more than 60.00 mV'],
    [
      'OL',
      { check: most, instrument: { ...meter, accuracy: meter.accuracy.replace('60.00 mV', '60.00 mV ±1 %; 600.0 mV') } },
      'such as "more than 60 mV"',
    ],
    ['OL', { check: { ...most, unit: 'V' }, instrument: meter }, 'entry: Write the top of the range in use'],
    ['<1', { check: most }, 'pass: less than 1 mV'],
    ['>60', { check: most }, 'fail: more than 60 mV'],
    ['OL', {}, 'entry: Write the top of the range'],
  ])('%s', (entry, over, expected) => expect(words(entry, over)).toContain(expected))
})
