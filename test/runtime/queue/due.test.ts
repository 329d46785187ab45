import Database from 'better-sqlite3'
import { beforeEach, expect, test } from 'vitest'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { DueWork } from '#runtime/queue/due'
import { openQueue } from '#runtime/queue/queue'
import type { Fact, Turn } from '#runtime/queue/turn'

let now: Instant
let looked: number
let handle: Database.Database
beforeEach(() => {
  now = 0
  looked = 0
  handle = new Database(':memory:')
  handle.exec("CREATE TABLE bell (at INTEGER NOT NULL, rang INTEGER); CREATE TABLE told (words TEXT NOT NULL CHECK (words <> ''))")
})

const tell = (words: string) => handle.prepare('INSERT INTO told (words) VALUES (?)').run(words)
const told = () => handle.prepare('SELECT words FROM told').pluck().all()
const setBell = (at: Instant) => handle.prepare('INSERT INTO bell (at) VALUES (?)').run(at)

/** A queue in front of bells that ring at their instants. */
function openBells(change: Partial<DueWork> = {}) {
  const due: DueWork = {
    start: () => tell('started'),
    nextAt: () => {
      looked += 1
      return handle.prepare<[], Instant | null>('SELECT min(at) FROM bell WHERE rang IS NULL').pluck().get() ?? null
    },
    run: (turn) => {
      for (const at of handle
        .prepare<[Instant], Instant>('SELECT at FROM bell WHERE rang IS NULL AND at <= ? ORDER BY at')
        .pluck()
        .all(turn.now)) {
        handle.prepare('UPDATE bell SET rang = ? WHERE at = ?').run(turn.now, at)
        tell(`rang ${at}`)
        turn.record({ kind: 'rang', subject: 'bell', body: { at } })
      }
    },
    bringsForward: ({ kind }) => kind === 'set',
    ...change,
  }
  const announced: string[] = []
  const machine = { passed: 0 }
  const queue = openQueue({
    handle,
    stamp: () => now,
    turnAt: (at, facts) => ({ now: at, record: (fact: Fact) => facts.push({ ...fact, seq: 0, at }) }) as unknown as Turn,
    due,
    passed: () => machine.passed,
    announce: (facts) => announced.push(...facts.map(({ kind }) => kind)),
    full: () => false,
    room: () => true,
    broken: () => {},
  })
  return { run: (words: string) => queue.run(() => tell(words)), queue, announced, machine }
}

test('what is due is done before the command, at the stamp of the command, and before the first what a start means', async () => {
  setBell(10)
  const { run } = openBells()
  await run('early')
  now = 12
  await run('late')
  expect(told()).toEqual(['started', 'early', 'rang 10', 'late'])
})

test('of commands that are taken together, each comes after what was due at its own stamp', async () => {
  setBell(10)
  const { run } = openBells()
  const first = run('in time')
  now = 10
  await Promise.all([first, run('too late')])
  expect(told()).toEqual(['started', 'in time', 'rang 10', 'too late'])
})

test('a refused command leaves done what was due before it, and what was recorded then is announced', async () => {
  setBell(10)
  const { queue, announced } = openBells()
  now = 10
  const refused = queue.run(() => {
    tell('never')
    throw new Refusal('conflict', 'No.')
  })
  await expect(refused).rejects.toThrow('No.')
  expect(told()).toEqual(['started', 'rang 10'])
  expect(announced).toEqual(['rang'])
})

test('while it cannot be done no command is taken, and it is tried again at the next', async () => {
  setBell(10)
  let isStuck = true
  const { run } = openBells({
    start: () => {
      tell('started')
      if (isStuck) throw new Error('stuck')
    },
  })
  await expect(run('never')).rejects.toThrow('stuck')
  expect(told()).toEqual([])
  isStuck = false
  await run('then')
  expect(told()).toEqual(['started', 'then'])
})

test('commands before which nothing is due look nothing up', async () => {
  setBell(1000)
  const { run } = openBells()
  await run('first')
  await run('second')
  const before = looked
  for (let count = 0; count < 50; count++) await run('again')
  expect(looked).toBe(before)
})

test('a fact that brings the next instant forward is followed', async () => {
  setBell(1000)
  const { queue, run } = openBells()
  await run('first')
  await queue.run((turn) => {
    setBell(20)
    turn.record({ kind: 'set', subject: 'bell', body: {} })
  })
  now = 20
  await run('then')
  expect(told()).toEqual(['started', 'first', 'rang 20', 'then'])
})

test('what was done before a commit that failed is due again', async () => {
  setBell(10)
  handle.exec(
    'PRAGMA foreign_keys = ON; CREATE TABLE parent (id INTEGER PRIMARY KEY); CREATE TABLE child (id INTEGER REFERENCES parent DEFERRABLE INITIALLY DEFERRED)',
  )
  const { queue, run } = openBells()
  now = 10
  // A promise of the database that is looked at only when all is written: the whole group is undone by it.
  await expect(queue.run(() => handle.exec('INSERT INTO child (id) VALUES (1)'))).rejects.toThrow('FOREIGN KEY')
  expect(told()).toEqual([])
  await run('then')
  expect(told()).toEqual(['started', 'rang 10', 'then'])
})

test('a gap between two beats is looked at as a start is, before whatever comes first after it', async () => {
  const { run, queue, machine } = openBells()
  await run('first')
  machine.passed += 60_000
  await run('nothing beats yet')
  await queue.beat(() => tell('beat'))
  machine.passed += 4_000
  await run('a little later')
  machine.passed += 6_000
  await run('after a silence')
  await run('and on')
  await queue.beat(() => tell('beat'))
  expect(told()).toEqual([
    'started',
    'first',
    'nothing beats yet',
    'beat',
    'a little later',
    'started',
    'after a silence',
    'and on',
    'beat',
  ])
})

test('a command that could not be kept is no sign of life: the silence goes on until one is', async () => {
  const { run, queue, machine } = openBells()
  await queue.beat(() => tell('beat'))
  for (let n = 0; n < 5; n++) {
    machine.passed += 3_000
    await queue
      .beat(() => {
        throw Object.assign(new Error('database or disk is full'), { code: 'SQLITE_FULL' })
      })
      .catch(() => {})
  }
  await run('when there is room')
  expect(told()).toEqual(['started', 'beat', 'started', 'when there is room'])
})
