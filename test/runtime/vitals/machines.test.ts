import { expect, test } from 'vitest'
import { judgeMachines, type MachinesFacts } from '#runtime/vitals/machines.rules'
import { machinesWatched } from '#runtime/vitals/machines-watched'

const well: MachinesFacts = {
  trouble: null,
  isAlone: false,
  servers: 3,
  confirmed: 12_345,
  waiting: 0,
  followers: [{ name: 'hall, port 4170', number: 12_340 }],
}

test('on a good day it says what the servers hold, and who follows how far', () => {
  expect(judgeMachines(well)).toMatchObject({
    value: 3,
    standing: 'good',
    words: '3 servers hold everything up to message 12,345. hall, port 4170 stands by, and is up to message 12,340.',
    toDo: null,
  })
  expect(judgeMachines({ ...well, waiting: 2 }).words).toMatch(/; 2 groups are on the way\. /)
  expect(judgeMachines({ ...well, waiting: 1 }).words).toMatch(/; 1 group is on the way\. /)
})

test('servers that hold it are no machine that goes on: where nobody follows, that is worth a look', () => {
  const nobody = judgeMachines({ ...well, followers: [] })
  expect(nobody).toMatchObject({ value: 3, standing: 'look', toDo: expect.stringContaining('npm run standby') })
  expect(nobody.words).toContain('No machine stands by')
  expect(judgeMachines({ ...well, followers: null })).toMatchObject({ standing: 'good', words: expect.stringContaining('not known') })
})

test('one server besides is worth a look, none is bad', () => {
  expect(judgeMachines({ ...well, servers: 1 })).toMatchObject({ value: 1, standing: 'look' })
  expect(judgeMachines({ ...well, servers: null })).toMatchObject({ value: 0, standing: 'look', toDo: null })
  expect(judgeMachines({ ...well, isAlone: true })).toMatchObject({ value: 0, standing: 'bad', toDo: expect.stringMatching(/NATS_URL/) })
})

test('not reached, the page says what every screen says, and what to do', () => {
  const trouble = 'The servers that hold what is new are not reached.'
  expect(judgeMachines({ ...well, trouble })).toMatchObject({ value: 0, standing: 'bad', words: trouble })
  expect(judgeMachines({ ...well, trouble }).toDo).toContain('--alone')
})

test('a look asks the publishing anew each time, and gives its figures', () => {
  let confirmed = 7
  const { look } = machinesWatched({
    trouble: () => null,
    isAlone: () => false,
    howFar: () => ({ servers: 3, confirmed, waiting: 1, followers: [] }),
  })
  expect(look(0).also).toMatchObject([
    { key: 'machines-confirmed', value: 7 },
    { key: 'machines-waiting', value: 1 },
    { key: 'machines-following', value: 0 },
  ])
  confirmed = 8
  expect(look(0).also?.[0]).toMatchObject({ value: 8 })
})
