import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { markOf, nearestIn, seriesHint, seriesOf } from '#stock/catalogue/series.rules'
import { type ComponentValue, readValue, showValue, type ValueUnit } from '#stock/catalogue/value.rules'

const shown = (text: string, unit?: ValueUnit) => {
  const reading = readValue(text, unit)
  return reading.ok ? showValue(reading.value) : reading.words
}

describe('values are read as people write them', () => {
  test.each([
    ['4k7', 'Ω', '4.7 kΩ'],
    ['4.7K', 'Ω', '4.7 kΩ'],
    ['4700', 'Ω', '4.7 kΩ'],
    ['4R7', 'Ω', '4.7 Ω'],
    ['R47', 'Ω', '470 mΩ'],
    ['100n', 'F', '100 nF'],
    ['0.1uF', 'F', '100 nF'],
    ['104', 'F', '100 nF'],
    ['1M5', 'Ω', '1.5 MΩ'],
    ['p33', 'F', '0.33 pF'],
    ['10 µH', 'H', '10 µH'],
    ['0,1 µF', 'F', '100 nF'],
    ['４ｋ７', 'Ω', '4.7 kΩ'],
    ['１０４', 'F', '100 nF'],
    ['㏀'.replace('㏀', '2.2㏀'), 'Ω', '2.2 kΩ'],
    ['10Ω', 'Ω', '10 Ω'],
    ['10 ohms', 'Ω', '10 Ω'],
    ['2.2 MEG', 'Ω', '2.2 MΩ'],
    ['0', 'Ω', '0 Ω'],
    ['4700 uF', 'F', '4700 µF'],
    ['4m7', 'F', '4700 µF'],
    ['1 F', 'F', '1 F'],
    ['47', 'F', '47 pF'],
    ['4u7', 'H', '4.7 µH'],
    ['101', 'H', '100 µH'],
    ['4R7', 'H', '4.7 µH'],
    ['32.768 kHz', 'Hz', '32.768 kHz'],
    ['7M3728', 'Hz', '7.3728 MHz'],
    ['5V1', 'V', '5.1 V'],
    ['500 mA', 'A', '500 mA'],
    ['0.25 W', 'W', '250 mW'],
    ['104K', 'F', '100 nF ±10 %'],
    ['4k7 5%', 'Ω', '4.7 kΩ ±5 %'],
    ['4k7 ±1 %', 'Ω', '4.7 kΩ ±1 %'],
    ['4K7J', 'Ω', '4.7 kΩ ±5 %'],
    ['100', 'F', '10 pF'],
    ['104T', 'F', '100 nF −10/+50 %'],
    ['104Q', 'F', '100 nF −10/+30 %'],
    ['4k7F', 'Ω', '4.7 kΩ ±1 %'],
    ['4k7H', 'Ω', '4.7 kΩ ±3 %'],
    ['4k7W', 'Ω', '4.7 kΩ ±0.05 %'],
    ['4k7P', 'Ω', '4.7 kΩ ±0.02 %'],
    ['4k7L', 'Ω', '4.7 kΩ ±0.01 %'],
    ['4k7E', 'Ω', '4.7 kΩ ±0.005 %'],
    ['R47T', 'Ω', '470 mΩ −10/+50 %'],
    ['104 −0/+100 %', 'F', '100 nF −0/+100 %'],
  ] as const)('%s on a part measured in %s is %s', (text, unit, words) => {
    expect(shown(text, unit)).toBe(words)
  })

  test.each([
    ['4k7', '4.7 kΩ'],
    ['100n', '100 nF'],
    ['47 µF', '47 µF'],
    ['4R7', '4.7 Ω'],
    ['10 MHz', '10 MHz'],
  ])('%s speaks for itself where the kind of part is not known', (text, words) => {
    expect(shown(text)).toBe(words)
  })

  test('a code says how it was read, since 100 on a capacitor is ten picofarads', () => {
    expect(readValue('100', 'F')).toMatchObject({ ok: true, note: 'read as the code 100: 10 pF' })
  })
})

describe('what cannot be read says what was understood', () => {
  test.each([
    ['', 'Ω', 'No value is given.'],
    ['   ', 'Ω', 'No value is given.'],
    ['-1', 'Ω', '"-1" is below zero. Write it like 4k7 or 100 nF.'],
    ['10 µH', 'F', '"10 µH" was understood as 10 µH, an inductance; this part has a capacitance.'],
    ['100 nF', 'Ω', '"100 nF" was understood as 100 nF, a capacitance; this part has a resistance.'],
    ['10 MF', 'F', '"10 MF" was understood as 10 MF, a value no part has. Check the letter and its case.'],
    ['1,000', 'Ω', '"1,000" can be read two ways. Write 1000 or 1.000.'],
    ['4700', 'F', '"4700" can be read two ways. Write 4700 pF, or the value with its unit.'],
    ['1e308', 'Ω', '"1e308" is not a value. Write it like 4k7, 100 nF or 10 µH.'],
    ['4k7k', 'Ω', '"4k7k" is not a value. Write it like 4k7, 100 nF or 10 µH.'],
    ['k7k', 'Ω', '"k7k" is not a value. Write it like 4k7, 100 nF or 10 µH.'],
    ['0', 'F', '"0" is zero. Only a link has no value.'],
    ['1.2345678901234', 'Ω', '"1.2345678901234" has more figures than any part. Write at most twelve.'],
    [
      '104P',
      'F',
      '"104P" can be read two ways: P is ±0.02 % in IEC 60062, and −0/+100 % on older capacitors. Write 104 -0/+100 % or 104 ±0.02 %.',
    ],
    ['47P', 'F', '"47P" can be read two ways. Write 47 pF, or P as the tolerance that it stands for.'],
    ['47E', 'Ω', '"47E" can be read two ways: E is written for ohms, and is ±0.005 % in IEC 60062. Write 47R, or 47 ±0.005 %.'],
    ['x'.repeat(41), 'Ω', 'That is too long to be a value. Write it like 4k7 or 100 nF.'],
  ] as const)('%s on a part measured in %s', (text, unit, words) => {
    expect(shown(text, unit)).toBe(words)
  })

  test('a letter that is a tolerance or a unit is refused where the kind of part is not known', () => {
    expect(shown('4k7W')).toContain('"4k7W" can be read two ways: the last letter may be a tolerance or a unit.')
  })

  test('a bare number says nothing where the kind of part is not known', () => {
    expect(shown('4700')).toBe('"4700" of what? Add the unit, such as 4700 Ω or 4700 pF.')
  })

  test('no text whatever makes the reader throw', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.constantFrom<ValueUnit | undefined>('Ω', 'F', undefined), (text, unit) => {
        expect(typeof readValue(text, unit).ok).toBe('boolean')
      }),
    )
  })
})

const anyValue: fc.Arbitrary<ComponentValue> = fc
  .record({
    unit: fc.constantFrom<ValueUnit>('Ω', 'F', 'H'),
    digits: fc.integer({ min: 1, max: 999 }).filter((digits) => digits % 10 !== 0),
    exponent: fc.integer({ min: -3, max: 6 }),
  })
  .map((value) => ({ ...value, exponent: value.unit === 'Ω' ? value.exponent : value.exponent - (value.unit === 'F' ? 11 : 7) }))

test('a value that is shown is read back as the same value', () => {
  fc.assert(
    fc.property(anyValue, (value) => {
      expect(readValue(showValue(value), value.unit)).toEqual({ ok: true, value })
    }),
  )
})

test('a resistor marked in the code of IEC 60062 is read back as the same value', () => {
  fc.assert(
    fc.property(
      anyValue.filter((value) => value.unit === 'Ω'),
      (value) => {
        expect(readValue(markOf(value), 'Ω')).toEqual({ ok: true, value })
      },
    ),
  )
})

const read = (text: string, unit: ValueUnit) => {
  const reading = readValue(text, unit)
  if (!reading.ok) throw new Error(reading.words)
  return reading.value
}

describe('a value that nobody makes is asked about', () => {
  test.each([
    ['4k8', 'Ω', '4k8 is in no series up to E96; 4k7?'],
    ['472', 'Ω', '472R is in no series up to E96; as the code 472 it would be 4k7. Write which.'],
    ['104', 'Ω', '104R is in no series up to E96; as the code 104 it would be 100k. Write which.'],
    ['101 nF', 'F', '101n is in no series up to E96; 100n?'],
    ['98k', 'Ω', '98k is in no series up to E96; 100k?'],
  ] as const)('%s in %s', (text, unit, words) => {
    expect(seriesHint(read(text, unit))).toBe(words)
  })

  test.each([
    ['4k7', 'Ω'],
    ['4k99', 'Ω'],
    ['100n', 'F'],
    ['205R', 'Ω'],
  ] as const)('%s in %s is not', (text, unit) => {
    expect(seriesHint(read(text, unit))).toBeUndefined()
  })

  test('crystals and voltages come in no series', () => {
    expect(seriesHint(read('32.768 kHz', 'Hz'))).toBeUndefined()
    expect(seriesHint(read('5V1', 'V'))).toBeUndefined()
  })

  test('the coarsest series that holds a value is named', () => {
    expect(seriesOf(read('4k7', 'Ω'))).toBe('E3')
    expect(seriesOf(read('51k', 'Ω'))).toBe('E24')
    expect(seriesOf(read('4k99', 'Ω'))).toBe('E96')
    expect(seriesOf(read('920', 'Ω'))).toBe('E192')
    expect(seriesOf(read('919', 'Ω'))).toBeUndefined()
  })

  test('the nearest is nearest by ratio, across a decade', () => {
    expect(nearestIn(read('97', 'Ω'), 'E3')).toEqual(read('100', 'Ω'))
    expect(nearestIn(read('1k', 'Ω'), 'E3')).toEqual(read('1k', 'Ω'))
  })
})
