import { describe, expect, it } from 'vitest'
import { halfWidth, readAccuracy } from '../../server/units/accuracy.rules'

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
    expect(halfWidth(meter, { value: 1, resolution: 0.1, unit: 'V rms' })).toBeCloseTo(0.205, 12)
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
