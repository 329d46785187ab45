import { describe, expect, it } from 'vitest'
import { beyondRange, budgetOf, halfWidth, readAccuracy } from '#bench/units/accuracy.rules'
import { doubtOf } from '#bench/units/doubt.rules'

const terms = (text: string) => {
  const answer = readAccuracy(text)
  if (!answer.ok) throw new Error(answer.words)
  return answer.terms
}

describe('accuracy as the maker of an instrument writes it', () => {
  it('adds the part of the reading and the digits: 4.98 V by ±(0.5 % + 2 digits) is ±0.0449 V', () => {
    expect(halfWidth(terms('±(0.5 % + 2 digits)'), { value: 4.98, resolution: 0.01, unit: 'V' })).toBeCloseTo(0.0449, 12)
    expect(halfWidth(terms('+/-(0.5% + 2 dgt)'), { value: -4.98, resolution: 0.01, unit: 'V' })).toBeCloseTo(0.0449, 12)
  })

  it('takes a fixed part in its own prefix', () => {
    expect(halfWidth(terms('±0.05 V'), { value: 8.02, resolution: 0.01, unit: 'V' })).toBeCloseTo(0.05, 12)
    expect(halfWidth(terms('±0.05 V'), { value: 20, resolution: 1, unit: 'mV' })).toBeCloseTo(50, 9)
    expect(halfWidth(terms('±(20 ppm + 1 Hz)'), { value: 10_000_000, resolution: 1, unit: 'Hz' })).toBeCloseTo(201, 9)
  })

  it('keeps several quantities apart, and says nothing for one that is not there', () => {
    const meter = terms('V ±(0.5 % + 2 digits); Ω ±(0.8 % + 1 digit); A: ±1.5 %')
    expect(halfWidth(meter, { value: 2.2, resolution: 0.01, unit: 'kΩ' })).toBeCloseTo(0.0276, 12)
    expect(halfWidth(meter, { value: 100, resolution: 1, unit: 'mA' })).toBeCloseTo(1.5, 12)
    expect(halfWidth(meter, { value: 1, resolution: 0.1, unit: 'V rms' })).toBeNull()
    expect(halfWidth(terms('V rms ±(1.0%+3); Vpp ±3 %'), { value: 1, resolution: 0.1, unit: 'V rms' })).toBeCloseTo(0.31, 12)
    expect(halfWidth(terms('V~ ±1 %; V DC ±0.5 %'), { value: 100, resolution: 1, unit: 'V' })).toBeCloseTo(0.5, 12)
    expect(halfWidth(meter, { value: 455, resolution: 1, unit: 'kHz' })).toBeNull()
    expect(halfWidth(terms('±0.05 V'), { value: 100, resolution: 1, unit: 'mA' })).toBeNull()
  })

  it.each(['', 'good', '0.5 %', '±', '±(0.5 % + 2 bananas)', 'V ±1 %; V ±2 %', 'V ±2 A'])(
    'refuses "%s" and shows how to write it',
    (text) => {
      expect(readAccuracy(text)).toMatchObject({ ok: false, words: expect.stringMatching(/such as ±\(0\.5 % \+ 2 digits\)|Keep one/) })
    },
  )
})

describe('ranges, counts and budgets', () => {
  const meter = () => {
    const answer = readAccuracy(
      '600.0 mV ±(0.5 % + 3 digits); 6.000 V ±(0.5 % + 2 digits); 60.00 V ±(0.8 % + 0.1 % of range); Ω ±(0.8 % + 2 digits); 6000 counts',
    )
    if (!answer.ok) throw new Error(answer.words)
    return answer
  }
  const a = (value: number, unit: string, resolution = 0.01) =>
    budgetOf(meter(), { value, unit, resolution })?.reduce((sum, line) => sum + line.halfWidth, 0) ?? null

  it('a reading is judged by the smallest range that it lies in, and its digits are those of that range', () => {
    expect(a(0.5, 'V')).toBeCloseTo(0.0025 + 3 * 0.0001, 12)
    expect(a(500, 'mV')).toBeCloseTo(2.5 + 0.3, 9)
    expect(a(4.98, 'V')).toBeCloseTo(0.0249 + 0.002, 12)
    expect(a(6, 'V')).toBeCloseTo(0.03 + 0.002, 12)
    expect(a(-12, 'V')).toBeCloseTo(0.096 + 0.06, 12)
  })

  it('beyond the highest range it states nothing, and says which that is', () => {
    expect(a(60.01, 'V')).toBeNull()
    expect(beyondRange(meter(), { value: 60.01, unit: 'V', resolution: 0.01 })).toBe('60.00 V')
    expect(beyondRange(meter(), { value: 1, unit: 'Hz', resolution: 1 })).toBeNull()
  })

  it('by its counts a digit is no finer than the display can show', () => {
    expect(a(4700, 'Ω', 1)).toBeCloseTo(37.6 + 2, 9)
    expect(a(8200, 'Ω', 1)).toBeCloseTo(65.6 + 20, 9)
  })

  it('every part of the budget is named', () => {
    expect(budgetOf(meter(), { value: 12, unit: 'V', resolution: 0.01 })?.map(({ words }) => words)).toEqual([
      '0.8 % of the reading',
      '0.1 % of the 60.00 V range',
    ])
    expect(budgetOf(meter(), { value: 4.98, unit: 'V', resolution: 0.01 })?.map(({ words }) => words)).toEqual([
      '0.5 % of the reading',
      '2 digits of 0.001 V',
    ])
  })

  it('the same range twice is refused', () => {
    expect(readAccuracy('6.000 V ±1 %; 6.000 V ±2 %')).toMatchObject({ ok: false, words: expect.stringContaining('6.000 V') })
  })
})

describe('an accuracy holds for the quantities and between the frequencies that the leaflet names', () => {
  const meter = (text: string) => ({ name: 'Meter', accuracy: text })
  const LEAFLET = 'V ±0.5 %; V rms 45 Hz to 1 kHz ±(1.0%+3); V rms 1-10 kHz ±3 %; Vpp up to 20 MHz ±3 %; 6000 counts'
  const at = (unit: string, frequency: number | null, text = LEAFLET) =>
    doubtOf({ value: 1, resolution: 0.001 }, { unit, frequency }, meter(text))
  const half = (answer: ReturnType<typeof doubtOf>) =>
    typeof answer === 'string' || 'field' in answer ? null : answer.lines.reduce((sum, line) => sum + line.halfWidth, 0)

  it('as each band says it', () => {
    expect(half(at('V rms', 400))).toBeCloseTo(0.013, 12)
    expect(half(at('V rms', 45))).toBeCloseTo(0.013, 12)
    expect(half(at('V rms', 5000))).toBeCloseTo(0.03, 12)
    expect(half(at('Vpp', 20e6))).toBeCloseTo(0.03, 12)
    expect(half(at('V', null))).toBeCloseTo(0.005, 12)
  })

  it('and outside says so, with what it does name', () => {
    expect(at('V rms', 44)).toBe(
      'Meter states an accuracy for V rms only from 45 Hz to 1 kHz, from 1 kHz to 10 kHz, and this check is at 44 Hz. Choose another instrument, or write the frequency into the checklist.',
    )
    expect(at('Vpp', 20.1e6)).toMatch(/only up to 20 MHz, and this check is at 20\.1 MHz/)
  })

  it('and where the check names no frequency, does not know', () => {
    expect(at('V rms', null)).toMatch(/this check does not say at which frequency it is read/)
    expect(half(at('V rms', null, 'V rms ±1 %'))).toBeCloseTo(0.01, 12)
  })

  it('what is right for a sine alone reads no other RMS; what reads any RMS reads that of a sine', () => {
    expect(half(at('V rms sine', 50, 'V rms sine ±1 %'))).toBeCloseTo(0.01, 12)
    expect(at('V rms', 50, 'V rms sine ±1 %')).toBe('Meter states no accuracy for V rms. Choose another instrument.')
    expect(half(at('mV rms sine', 50, 'V rms ±2 %'))).toBeCloseTo(0.02, 12)
    expect(at('V', 50, 'V rms ±2 %')).toBe('Meter states no accuracy for V. Choose another instrument.')
  })

  it('two of one quantity and one band are refused, of two bands not', () => {
    expect(readAccuracy('V rms 45 Hz to 1 kHz ±1 %; V rms 45-1000 Hz ±2 %')).toMatchObject({ ok: false })
    expect(readAccuracy('V rms 1 kHz to 45 Hz ±1 %')).toMatchObject({ ok: false })
    expect(readAccuracy(LEAFLET)).toMatchObject({ ok: true })
  })
})
