import { describe, expect, it } from 'vitest'
import { readEntry } from '../../server/units/entry.rules'
import { decideVerdict } from '../../server/units/verdict.rules'

const judged = (text: string, unit: string, lower: number | null, upper: number | null) => {
  const answer = readEntry(text, unit)
  return answer.ok ? decideVerdict(answer.entry.value, { lower, upper }, 'simple', 0) : answer.words
}

describe('published electrical levels, entered as on the meter', () => {
  // 74-series TTL, commercial range: two public copies of the data-book table.
  it.each([
    ['4.75', 'pass'],
    ['4749 mV', 'fail'],
    ['5.25', 'pass'],
    ['5251 mV', 'fail'],
  ])('74 standard TTL, supply 4.75 to 5.25 V: %s is a %s', (text, verdict) => {
    expect(judged(text, 'V', 4.75, 5.25)).toBe(verdict)
  })

  // JESD8C.01 as cited in device makers' tables: LVTTL VOH at least 2.4 V, VIL at most 0.8 V.
  it.each([
    ['2.40', 2.4, null, 'pass'],
    ['2399m', 2.4, null, 'fail'],
    ['0.8', null, 0.8, 'pass'],
    ['801 mV', null, 0.8, 'fail'],
  ])('LVTTL 3.3 V: %s with limits %s and %s is a %s', (text, lower, upper, verdict) => {
    expect(judged(text, 'V', lower, upper)).toBe(verdict)
  })

  // ITU-R BT.470 as tabled in public sources: NTSC subcarrier 3579545 ± 10 Hz.
  it.each([
    ['3579555', 'pass'],
    ['3,579,556', 'fail'],
    ['3.579545 MHz', 'pass'],
    ['3579.534k', 'fail'],
  ])('NTSC subcarrier 3579545 ± 10 Hz: %s is a %s', (text, verdict) => {
    expect(judged(text, 'Hz', 3579535, 3579555)).toBe(verdict)
  })
})
