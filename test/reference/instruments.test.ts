import { describe, expect, it } from 'vitest'
import { readLimit } from '#bench/designs/limits.rules'
import { readEntry } from '#bench/units/entry.rules'
import { decideVerdict } from '#bench/units/verdict.rules'

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

describe('levels of JESD8 and the 74 series as limits of a checklist', () => {
  // JESD8C.01 (3.3 V), JESD8-5 (2.5 V), JESD8-7 (1.8 V) as cited in device makers' tables.
  it.each([
    ['VIL at 3.3 V', '0.800', null, 0.8, 'pass'],
    ['VIL at 3.3 V', '0.801', null, 0.8, 'fail'],
    ['VIH at 3.3 V', '2.000', 2, null, 'pass'],
    ['VIH at 3.3 V', '1.999', 2, null, 'fail'],
    ['VIL at 2.5 V', '700 mV', null, 0.7, 'pass'],
    ['VIH at 2.5 V', '1.699', 1.7, null, 'fail'],
    ['VOL at 1.8 V', '451m', null, 0.45, 'fail'],
    ['supply at 1.8 V', '1.95', 1.65, 1.95, 'pass'],
    ['74 TTL, VOH', '2.4', 2.4, null, 'pass'],
    ['74 TTL, IIH', '40 µA', null, 0.04, 'pass'],
  ] as const)('%s: %s with limits %s and %s is a %s', (name, text, lower, upper, verdict) => {
    expect(judged(text, name.endsWith('IIH') ? 'mA' : 'V', lower, upper)).toBe(verdict)
  })

  // 0.35 and 0.65 of the supply: arithmetic over JESD8-7's ratios.
  it.each([
    ['1.8', '-65 %', 0.63],
    ['1.65', '-65 %', 0.5775],
    ['1.95', '-35 %', 1.2675],
  ])('%s V, %s off it, is a limit of %d V', (nominal, cell, limit) => {
    const answer = readLimit(cell, 'upper', { text: nominal, value: Number(nominal) })
    expect(answer).toMatchObject({ ok: true, limit: { value: limit } })
  })

  // ppm = (f − f0)/f0 · 10⁶; the last row is the PAL tolerance of ±5 Hz.
  it.each([
    ['16000000', '+20 ppm', 16_000_320],
    ['32768.00000', '+20 ppm', 32_768.65536],
    ['8000000', '-50 ppm', 7_999_600],
    ['4433618.75', '+1.1277 ppm', 4_433_623.75],
  ])('%s Hz and %s is %d Hz', (nominal, cell, limit) => {
    const answer = readLimit(cell, cell.startsWith('-') ? 'lower' : 'upper', { text: nominal, value: Number(nominal) })
    expect(answer.ok && answer.limit ? answer.limit.value : Number.NaN).toBeCloseTo(limit, 3)
  })
})
