import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { Refusal } from '#kernel/refusal'
import { openQueue } from '#runtime/queue/queue'
import { once, type Turn } from '#runtime/queue/turn'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const note = (word: string) => (turn: Parameters<Parameters<Stage['command']>[0]>[0]) =>
  turn.record({ kind: 'noted', subject: word, body: {} })

test('commands of one turn are kept in the order of their arrival', async () => {
  await Promise.all(['a', 'b', 'c'].map((word) => stage.command(note(word))))
  expect(stage.facts().map(({ subject }) => subject)).toEqual(['a', 'b', 'c'])
})

test('a refused command undoes itself and nothing of its neighbours', async () => {
  const answers = await Promise.allSettled([
    stage.command(note('before')),
    stage.command((turn) => {
      note('never')(turn)
      throw new Refusal('conflict', 'no')
    }),
    stage.command(note('after')),
  ])
  expect(answers.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled'])
  expect(stage.facts().map(({ subject }) => subject)).toEqual(['before', 'after'])
})

test('while another program writes to the database the thread goes on, and what was asked is done when it lets go', async () => {
  const other = new Database(join(stage.dir, 'tagstrip.db'))
  other.exec('BEGIN IMMEDIATE')
  const done = stage.command(note('meanwhile'))
  let turns = 0
  const letGo = new Promise<void>((resolve) => {
    const beat = setInterval(() => {
      if (++turns < 4) return
      clearInterval(beat)
      other.exec('ROLLBACK')
      resolve()
    }, 1)
  })
  // Were the thread to wait, nobody could let go: it is this one.
  await Promise.all([letGo, done])
  other.close()
  expect(stage.facts().map(({ subject }) => subject)).toEqual(['meanwhile'])
})

test('whoever asks while another program holds the database for long is told so, and it goes on afterwards', async () => {
  const handle = stage.house.db.$client
  const queue = openQueue({
    handle,
    stamp: () => stage.clock.now(),
    turnAt: () => ({ ...stage.sight() }) as unknown as Turn,
    due: { start: () => {}, nextAt: () => null, run: () => {}, bringsForward: () => false },
    announce: () => {},
    full: () => false,
    room: () => true,
    broken: () => {},
    longestHeldMs: 0,
  })
  const other = new Database(join(stage.dir, 'tagstrip.db'))
  other.exec('BEGIN IMMEDIATE')
  await expect(queue.run(() => 1)).rejects.toMatchObject({ code: 'file-held', message: expect.stringContaining('Another program holds') })
  other.exec('ROLLBACK')
  other.close()
  expect(await queue.run(() => 2)).toBe(2)
})

test('stamps never run backwards when the clock does', async () => {
  const first = await stage.command((turn) => turn.now)
  stage.clock.pass(-60_000)
  expect(await stage.command((turn) => turn.now)).toBe(first)
})

test('a command sent twice with one key has one effect and the same answer', async () => {
  const send = () =>
    stage.command((turn) =>
      once(turn, 'k1', { n: 1 }, () => {
        note('once')(turn)
        return { made: turn.dice.id() }
      }),
    )
  expect(await send()).toEqual(await send())
  expect(stage.facts()).toHaveLength(1)
})

test('a key used again for different content is refused', async () => {
  await stage.command((turn) => once(turn, 'k1', { n: 1 }, () => 1))
  await expect(stage.command((turn) => once(turn, 'k1', { n: 2 }, () => 2))).rejects.toThrow('different content')
})

test('letters of a refused command are never posted', async () => {
  const refused = stage.command((turn) => {
    turn.post({ to: 'a@b.example', subject: 's', body: 'b' })
    throw new Refusal('conflict', 'no')
  })
  await expect(refused).rejects.toThrow('no')
  expect(stage.letters()).toEqual([])
})
