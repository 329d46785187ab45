import { describe, expect, test } from 'vitest'
import type { PartIn } from '#stock/catalogue/part.contract'
import { partWords } from '#stock/catalogue/part.rules'
import { type CatalogueEntry, partsMeant } from '#stock/catalogue/parts-meant.rules'

const entry = (id: string, { kind, name, value = '', package: size = '', rating = '' }: PartIn): CatalogueEntry => {
  const own = { kind, name, value, package: size, rating }
  return { id, words: partWords(own), ...own }
}
const catalogue = [
  entry('c100', { kind: 'capacitor', name: 'capacitor', value: '100 nF', package: 'radial', rating: '50 V' }),
  entry('x100', { kind: 'capacitor', name: 'X7R capacitor', value: '100 nF', package: '0805' }),
  entry('r47', { kind: 'resistor', name: 'resistor', value: '4.7 kΩ', package: 'axial' }),
  entry('r471', { kind: 'resistor', name: 'resistor', value: '4.7 kΩ ±1 %', package: 'axial' }),
  entry('pld', { kind: 'chip', name: 'Logic device PLD-22', package: 'DIP-24' }),
]
const ids = (typed: string) => partsMeant(typed, catalogue).known.map(({ id }) => id)
const fresh = (typed: string) => partsMeant(typed, catalogue).fresh?.words ?? null

describe('what is written on a bag proposes the part', () => {
  test.each(['100n', '0,1uF', '0.1 µF', '104', '20x 100nF', 'ca. 20 × 104', '100 nF caps'])('%s is the capacitor of 100 nF', (typed) => {
    expect(ids(typed).sort()).toEqual(['c100', 'x100'])
  })
  test.each([
    ['4k7', ['r47', 'r471']],
    ['4k7 1%', ['r471', 'r47']],
    ['100n X7R', ['x100', 'c100']],
    ['100nF 0805', ['x100']],
    ['logic device', ['pld']],
    ['PLD-22', ['pld']],
    ['knobs', []],
    ['47', []],
    ['', []],
  ])('%s', (typed, found) => {
    expect(ids(typed)).toEqual(found)
  })
  test('what is not in the catalogue is proposed as new, as far as it is understood', () => {
    expect(fresh('470u 25V radial elkos')).toBe('470 µF capacitor, radial, 25V')
    expect(fresh('10k blue body')).toBe('10 kΩ resistor')
    expect(fresh('16 MHz crystals')).toBe('16 MHz crystal')
    expect(fresh('4k7 axial')).toBeNull()
    expect(fresh('A bag of knobs')).toBeNull()
  })
})
