import { describe, expect, test } from 'vitest'
import { readValue, siOf, type ValueUnit } from '#stock/catalogue/value.rules'
import codes from './component-codes.json'

const UNIT: Record<string, ValueUnit> = { ohm: 'Ω', farad: 'F' }

const values = codes.rows.filter((row) => row.kind !== 'tolerance_letter')
const letters = codes.rows.filter((row) => row.kind === 'tolerance_letter')

describe('values of IEC 60062 are read as published', () => {
  test.each(values)('$input is $value_si $unit ($confidence)', (row) => {
    const reading = readValue(String(row.input), UNIT[row.unit ?? ''])
    expect(reading).toMatchObject({ ok: true })
    if (!reading.ok) return
    expect(reading.value.unit).toBe(UNIT[row.unit ?? ''])
    // The exact decimal, not a near one: the published figures are written with at most four digits.
    expect(siOf(reading.value)).toBe(Number(row.value_si?.toPrecision(6)))
  })
})

describe('tolerance letters of IEC 60062 mean what is published', () => {
  test.each(letters)('$input is $value ($confidence)', (row) => {
    const inPicofarads = row.value?.endsWith('pF')
    const reading = readValue(inPicofarads ? `4p7${row.input}` : `104${row.input}`, 'F')
    expect(reading).toMatchObject({ ok: true, value: { tolerance: { words: row.value?.replace(/^-/, '−') } } })
  })
})
