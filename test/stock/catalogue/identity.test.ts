import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { PartIn } from '#stock/catalogue/part.contract'
import { partWords, readPart, standsIn } from '#stock/catalogue/part.rules'
import { openStage, type Stage } from '#test/stage'

const resistor = (over: Partial<PartIn> = {}): PartIn => ({ kind: 'resistor', name: 'Resistor', value: '4k7', package: 'axial', ...over })
const capacitor = (over: Partial<PartIn> = {}): PartIn => ({
  kind: 'capacitor',
  name: 'Capacitor',
  value: '100n',
  package: 'radial',
  ...over,
})
const key = (part: PartIn) => {
  const reading = readPart(part)
  return reading.ok ? reading.sameness : reading.words
}

describe('two parts are two', () => {
  test.each<[string, PartIn, PartIn]>([
    ['by the prefix of their value', resistor({ value: '10 mΩ' }), resistor({ value: '10 MΩ' })],
    ['by their dielectric', capacitor({ name: 'C0G capacitor' }), capacitor({ name: 'X7R capacitor' })],
    ['by a dielectric that only one names', capacitor(), capacitor({ name: 'film capacitor' })],
    ['by their technology', resistor({ name: 'carbon film' }), resistor({ name: 'wirewound' })],
    ['by their power', resistor({ rating: '2 W' }), resistor({ rating: '¼ W' })],
    ['by a power that stands in the name', resistor({ name: 'resistor 2 W' }), resistor({ name: 'resistor 1/4 W' })],
    ['by their tolerance', resistor({ value: '4k7 1%' }), resistor({ value: '4k7 5%' })],
  ])('%s', (_, one, other) => expect(key(one)).not.toBe(key(other)))
})

describe('one part is one, wherever its figures were written', () => {
  test.each<[PartIn, PartIn]>([
    [resistor({ rating: '¼ W' }), resistor({ rating: '0.25W' })],
    [resistor({ rating: '1/4 W' }), resistor({ name: 'Resistor, 250 mW' })],
    [resistor({ value: '4k7J' }), resistor({ rating: '5 %' })],
    [capacitor({ name: 'NP0', rating: '50 V' }), capacitor({ name: 'capacitor C0G', rating: '50V' })],
    [resistor({ name: 'Metal film resistor' }), resistor({ name: 'resistor, metal film' })],
  ])('%o', (one, other) => expect(key(one)).toBe(key(other)))
})

test('what tells parts apart stands in their words', () => {
  const words = (rating: string) => partWords({ kind: 'resistor', name: 'resistor', value: '4.7 kΩ', package: 'axial', rating })
  expect([words('2 W'), words('¼ W')]).toEqual(['4.7 kΩ resistor, axial, 2 W', '4.7 kΩ resistor, axial, ¼ W'])
})

describe('what may stand in', () => {
  test.each<[PartIn, PartIn, string | null]>([
    [resistor({ rating: '0.25 W' }), resistor({ rating: '2 W' }), '2 W for 0.25 W'],
    [resistor({ rating: '2 W' }), resistor({ rating: '0.25 W' }), null],
    [resistor({ rating: '2 W' }), resistor(), null],
    [resistor({ value: '4k7 5%' }), resistor({ value: '4k7 1%' }), '±1 % for ±5 %'],
    [resistor({ value: '4k7 1%' }), resistor({ value: '4k7 5%' }), null],
    [capacitor({ name: 'C0G' }), capacitor({ name: 'X7R' }), null],
    [capacitor(), capacitor({ name: 'X7R' }), 'it is x7r, and the list names none'],
    [resistor(), resistor({ package: '0805' }), null],
    [{ kind: 'fuse', name: 'Fuse', value: '1 A', rating: '1 A' }, { kind: 'fuse', name: 'Fuse', value: '1 A', rating: '2 A' }, null],
  ])('%o for %o', (wanted, other, words) => expect(standsIn(wanted, other)).toBe(words))
})

describe('an entry from before', () => {
  let stage: Stage
  beforeEach(() => {
    stage = openStage()
  })
  afterEach(() => stage.close())

  /** As it was written when the name did not count and the key was in small letters. */
  async function made(value: string) {
    const caller = await stage.as('maker')
    const { part } = await caller.parts.add({ kind: 'resistor', name: 'Resistor', value, package: 'axial' })
    stage.db.$client.prepare('UPDATE part SET sameness = ? WHERE id = ?').run(`resistor||${part.value.toLowerCase()}|axial||`, part.id)
    return { caller, id: part.id }
  }

  test('is found by its own words, is joined with no other, and asks until somebody has looked', async () => {
    const { caller, id } = await made('10 mΩ')
    const add = (value: string, name = 'Resistor') => caller.parts.add({ kind: 'resistor', name, value, package: 'axial' })
    expect((await add('0.01 Ω')).part.id).toBe(id)
    expect((await add('10 MΩ')).part.id).not.toBe(id)
    expect((await add('10 mΩ', 'Wirewound')).part.id).not.toBe(id)
    expect((await caller.parts.list()).find((one) => one.id === id)?.isFromBefore).toBe(true)
    expect((await caller.parts.isOne({ partId: id })).isFromBefore).toBe(false)
    expect((await add('0.01 Ω')).part.id).toBe(id)
  })

  test('a bag that turns out to be another part is moved with a reason', async () => {
    const { caller, id } = await made('10 mΩ')
    const { part: other } = await caller.parts.add({ kind: 'resistor', name: 'Resistor', value: '10 MΩ', package: 'axial' })
    const batch = await caller.shelf.buy({ partId: id, boughtFrom: 'Corner Electronics', quantity: 10 })
    const { part: chip } = await caller.parts.add({ kind: 'chip', name: 'Timer' })
    const move = (partId: string) => caller.shelf.otherPart({ batchId: batch.id, partId, reason: 'brown, black, blue' })
    await expect(move(id)).rejects.toThrow('logged as that part already')
    await expect(move(chip.id)).rejects.toThrow('Choose a resistor')
    expect((await move(other.id)).part.words).toBe('10 MΩ resistor, axial')
  })
})
