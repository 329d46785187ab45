import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const staff = () => stage.as('volunteer')

describe('the catalogue', () => {
  test('knows a part by how it is written in any way', async () => {
    const caller = await staff()
    const first = await caller.parts.add({ kind: 'resistor', name: 'Resistor', value: '4k7', package: 'axial' })
    const again = await caller.parts.add({ kind: 'resistor', name: 'resistor', value: '4700', package: 'Axial' })
    expect(first).toMatchObject({ isNew: true, part: { value: '4.7 kΩ', words: '4.7 kΩ resistor, axial' } })
    expect(again).toMatchObject({ isNew: false, part: { id: first.part.id } })
  })

  test('refuses a value of another kind at its field, and asks about one that nobody makes', async () => {
    const caller = await staff()
    await expect(caller.parts.add({ kind: 'capacitor', name: 'Capacitor', value: '10 µH' })).rejects.toThrow(
      'an inductance; this part has a capacitance',
    )
    expect(await caller.parts.add({ kind: 'resistor', name: 'Resistor', value: '4k8' })).toMatchObject({
      hint: '4k8 is in no series up to E96; 4k7?',
    })
  })
})
