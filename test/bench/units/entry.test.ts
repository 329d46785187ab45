import { describe, expect, it } from 'vitest'
import { type Entry, readEntry, shiftEntry, thousandQuestion } from '#bench/units/entry.rules'

const read = (text: string, unit: string): Entry => {
  const answer = readEntry(text, unit)
  if (!answer.ok) throw new Error(answer.words)
  return answer.entry
}
const words = (text: string, unit: string): string => {
  const answer = readEntry(text, unit)
  return answer.ok ? `taken as ${answer.entry.value}` : answer.words
}

describe('a reading as on the meter', () => {
  it.each([
    ['4.98', 'V', 4.98],
    ['4980 mV', 'V', 4.98],
    ['4980mV', 'V', 4.98],
    ['31.2m', 'V', 0.0312],
    ['4,98', 'V', 4.98],
    ['４．９８', 'V', 4.98],
    ['４９８０ｍＶ', 'V', 4.98],
    ['−12.02', 'V', -12.02],
    ['-12.02 V', 'V', -12.02],
    ['2200 ohm', 'kΩ', 2.2],
    ['2.2k', 'kΩ', 2.2],
    ['1.02 M', 'MΩ', 1.02],
    ['980 uA', 'mA', 0.98],
    ['980 μA', 'mA', 0.98],
    ['0.98 A', 'mA', 980],
    ['10,000,000', 'Hz', 10_000_000],
    ['10 MHz', 'Hz', 10_000_000],
    ['455.2', 'kHz', 455.2],
    ['1.02 V', 'V rms', 1.02],
    ['1020 mV rms', 'V rms', 1.02],
    ['8 mVpp', 'mVpp', 8],
    ['8 mV p-p', 'mVpp', 8],
    ['-65', 'dBm', -65],
    ['0.4 ppm', 'ppm', 0.4],
    ['31 °C', '°C', 31],
    ['64', 'count', 64],
    ['-0', 'ppm', 0],
  ])('"%s" for a check in %s is %d', (text, unit, value) => {
    expect(read(text, unit).value).toBe(value)
  })

  it('knows the size of the last digit, in the unit of the check', () => {
    expect(read('4.98', 'V').resolution).toBe(0.01)
    expect(read('4980 mV', 'V').resolution).toBe(0.001)
    expect(read('2.20k', 'kΩ').resolution).toBe(0.01)
    expect(read('64', 'count').resolution).toBe(1)
  })

  it.each([
    ['', 'V', /Write what the meter shows, such as 4.98 V/],
    ['about five', 'V', /does not begin with a figure/],
    ['1e308', 'V', /"e308" is not V/],
    ['4.98 mA', 'V', /"mA" is not V. This check is in V/],
    ['4.98 Vpp', 'V', /is not V/],
    ['4.9.8', 'V', /is not a single figure/],
    ['4,980', 'V', /Is that 4.980 or 4980\?/],
    ['OL', 'kΩ', /An over-range display is not a figure/],
    ['3 dB', 'dBm', /is not dBm/],
    ['5 m', 'ppm', /is not ppm/],
    ['1234567890123456', 'Hz', /more digits than a meter has/],
    ['9'.repeat(41), 'Hz', /too long for a reading/],
  ])('"%s" for a check in %s is refused with words that help', (text, unit, expected) => {
    expect(words(text, unit)).toMatch(expected)
  })
})

describe('a reading off by about a thousand', () => {
  it('asks which was meant before it is stored', () => {
    expect(thousandQuestion(read('4980', 'V'), 5, 'V')?.words).toBe('4980 V or 4980 mV?')
    expect(thousandQuestion(read('4.98m', 'V'), 5, 'V')?.words).toBe('4.98 mV or 4.98 V?')
    expect(thousandQuestion(read('2200', 'kΩ'), 2.2, 'kΩ')?.words).toBe('2200 kΩ or 2200 Ω?')
  })

  it('takes the other one when that is what was meant', () => {
    const entry = read('4980', 'V')
    const question = thousandQuestion(entry, 5, 'V')
    expect(question && shiftEntry(entry, question)).toEqual({ value: 4.98, resolution: 0.001, shown: '4980 mV' })
    const small = read('4.98m', 'V')
    const other = thousandQuestion(small, 5, 'V')
    expect(other && shiftEntry(small, other)).toEqual({ value: 4.98, resolution: 0.01, shown: '4.98 V' })
  })

  it('does not ask when it is off by a hundred, or right, or when there is no nominal', () => {
    expect(thousandQuestion(read('0.05', 'V'), 5, 'V')).toBeNull()
    expect(thousandQuestion(read('4.98', 'V'), 5, 'V')).toBeNull()
    expect(thousandQuestion(read('4980', 'V'), null, 'V')).toBeNull()
  })

  it('does not ask for a nominal of zero, dB, °C, ppm or cents', () => {
    expect(thousandQuestion(read('1000', 'mV'), 0, 'mV')).toBeNull()
    for (const unit of ['dB', 'dBm', '°C', 'ppm', 'cents', '%']) expect(thousandQuestion(read('5000', unit), 5, unit)).toBeNull()
  })
})
