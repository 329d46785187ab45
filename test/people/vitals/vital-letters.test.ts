import { afterEach, beforeEach, expect, test } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { listTold, openVitalLetters } from '#people/vitals/vital-letters.service'
import type { Finding } from '#runtime/vitals/vital'
import { openStage, type Stage } from '#test/stage'

const GOOD: Finding = { value: 0, standing: 'good', words: 'Mail goes out.', toDo: null }
const BAD: Finding = {
  value: 900,
  standing: 'bad',
  words: 'Mail has not gone out for 15 minutes.',
  toDo: 'See whether the server is reached.',
}

let stage: Stage
let found: Finding
let tell: () => Promise<void>
beforeEach(async () => {
  stage = openStage()
  await stage.actor('maker', 'Ada')
  await stage.actor('maker', 'Ines')
  await stage.actor('host')
  await stage.actor('bidder')
  found = GOOD
  const { vitals, sight, queue, log } = stage.house
  vitals.watch({ key: 'mail-failing', name: 'Mail', unit: 'seconds', help: 'For how long.', look: () => found })
  tell = openVitalLetters({ vitals, sight, queue, log })
})
afterEach(() => stage.close())

const after = async (ms: number) => {
  stage.clock.pass(ms)
  stage.house.vitals.look()
  await tell()
}
const letters = () => stage.letters().map(({ recipient, subject }) => [recipient, subject])

test('the makers are written to once when something has been bad for a minute, and once when it is well again', async () => {
  await after(5 * MINUTE)
  found = BAD
  await after(1000)
  await after(MINUTE - 1)
  expect(letters()).toEqual([])
  await after(1)
  expect(letters().sort()).toEqual([
    ['ada@maker.example', 'The house needs you: Mail'],
    ['ines@maker.example', 'The house needs you: Mail'],
  ])
  const body = stage.letters()[0]?.body ?? ''
  expect(body).toContain('Mail has not gone out for 15 minutes.\nWhat to do: See whether the server is reached.')
  expect(body).toContain('https://bench.example/bench/house')
  for (let minute = 0; minute < 60; minute++) await after(MINUTE)
  expect(letters()).toHaveLength(2)
  found = GOOD
  await after(1000)
  await after(MINUTE)
  await after(MINUTE)
  expect(letters().slice(2).sort()).toEqual([
    ['ada@maker.example', 'Well again: Mail'],
    ['ines@maker.example', 'Well again: Mail'],
  ])
})

test('what comes and goes within a minute writes no letter', async () => {
  await after(5 * MINUTE)
  for (let turn = 0; turn < 20; turn++) {
    found = BAD
    await after(1000)
    await after(MINUTE / 2)
    found = GOOD
    await after(1000)
    await after(MINUTE / 2)
  }
  expect(letters()).toEqual([])
})

test('a house that was started anew meanwhile does not write again', async () => {
  found = BAD
  await after(0)
  await after(MINUTE)
  expect(letters()).toHaveLength(2)
  expect([...listTold(stage.sight())]).toEqual(['mail-failing'])
  const { vitals, sight, queue, log } = stage.house
  tell = openVitalLetters({ vitals, sight, queue, log })
  await after(MINUTE)
  expect(letters()).toHaveLength(2)
})

test('while nothing can be stored nobody is written to, and as soon as it can they are', async () => {
  found = BAD
  await after(0)
  stage.db.$client.exec("CREATE TRIGGER full BEFORE INSERT ON letter BEGIN SELECT raise(ABORT, 'no room'); END")
  await after(MINUTE)
  expect(letters()).toEqual([])
  stage.db.$client.exec('DROP TRIGGER full')
  await after(5000)
  expect(letters()).toHaveLength(2)
})

test('the page has the worst first, with its last hours, and says where the letter about it is', async () => {
  const view = async () => (await (await stage.as('maker', 'Ada')).vitals.read()).vitals
  found = BAD
  await after(0)
  expect((await view())[0]).toMatchObject({ key: 'mail-failing', standing: 'bad', letter: 'to be written' })
  await after(MINUTE)
  // The letter says that mail does not go out: it waits for that very mail.
  expect((await view())[0]).toMatchObject({ key: 'mail-failing', letter: 'waits', pieces: [{ standing: 'bad', value: 900 }] })
  found = GOOD
  stage.house.vitals.look()
  expect((await view()).every(({ letter }) => letter === 'none')).toBe(true)
})
