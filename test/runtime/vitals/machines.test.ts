import { expect, test } from 'vitest'
import { judgeMachines, type MachinesFacts } from '#runtime/vitals/machines.rules'
import { machinesWatched } from '#runtime/vitals/machines-watched'

const well: MachinesFacts = { trouble: null, isAlone: false, servers: 3, confirmed: 12_345, waiting: 0 }

test('on a good day it says how far the others are', () => {
  expect(judgeMachines(well)).toMatchObject({
    value: 3,
    standing: 'good',
    words: 'What is new is held by 3 servers before it is answered. They have confirmed everything up to message 12,345.',
    toDo: null,
  })
  expect(judgeMachines({ ...well, waiting: 2 }).words).toMatch(/; 2 groups are on the way\.$/)
  expect(judgeMachines({ ...well, waiting: 1 }).words).toMatch(/; 1 group is on the way\.$/)
})

test('one server besides is worth a look, none is bad', () => {
  expect(judgeMachines({ ...well, servers: 1 })).toMatchObject({ value: 1, standing: 'look' })
  expect(judgeMachines({ ...well, servers: null })).toMatchObject({ value: 0, standing: 'look', toDo: null })
  expect(judgeMachines({ ...well, isAlone: true })).toMatchObject({ value: 0, standing: 'bad', toDo: expect.stringMatching(/NATS_URL/) })
})

test('not reached, the page says what every screen says, and what to do', () => {
  const trouble = 'The machines that stand by this house are not reached.'
  expect(judgeMachines({ ...well, trouble })).toMatchObject({ value: 0, standing: 'bad', words: trouble })
  expect(judgeMachines({ ...well, trouble }).toDo).toContain('--alone')
})

test('a look asks the publishing anew each time, and gives its figures', () => {
  let confirmed = 7
  const { look } = machinesWatched({ trouble: () => null, isAlone: () => false, howFar: () => ({ servers: 3, confirmed, waiting: 1 }) })
  expect(look(0).also).toMatchObject([
    { key: 'machines-confirmed', value: 7 },
    { key: 'machines-waiting', value: 1 },
  ])
  confirmed = 8
  expect(look(0).also?.[0]).toMatchObject({ value: 8 })
})
