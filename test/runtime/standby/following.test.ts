import { createHmac } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { stepsIn } from '#db/steps'
import { openLog } from '#runtime/settings/log'
import { type Following, followStream } from '#runtime/standby/following'
import { type Part, partsOf } from '#runtime/standby/message'
import { Conflict, inShort, openPlace } from '#runtime/standby/place'
import type { Stream } from '#runtime/standby/stream'
import { MIGRATIONS } from '#test/make/packed'

// Who may write to the stream can disturb a copy that follows it. What it holds is of this house alone all the same, and in its order.

const STEPS = ['0047-what-goes-to-other-machines-before-it-is-answered.sql', '0052-a-house-that-was-overtaken-knows-it.sql']
const keysOf = (secret: string) => ({ seal: (words: string) => createHmac('sha256', secret).update(words).digest() })
const keys = keysOf('of this house')
const steps = stepsIn(MIGRATIONS)

const messageAt = (number: number, id: number, by = keys): Part => {
  const body = { kind: 'group', migration: inShort(steps), at: number, rows: [['thing', null, [id]]] }
  const [part] = partsOf(by, JSON.stringify(body), number, `m${number}`, 100_000)
  if (!part) throw new Error('there is no part')
  return part
}

const altered = ({ body, ...part }: Part): Part => ({
  ...part,
  body: `${body.slice(0, 20)}${body[20] === 'A' ? 'B' : 'A'}${body.slice(21)}`,
})

let dir: string
let file: string
let following: Following
let hear: (part: Part) => void
beforeEach(async () => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-following-'))
  file = join(dir, 'tagstrip.db')
  const handle = new Database(file)
  handle.exec('CREATE TABLE migration (name TEXT PRIMARY KEY); CREATE TABLE thing (id INTEGER PRIMARY KEY)')
  for (const step of STEPS) handle.exec(readFileSync(join(MIGRATIONS, step), 'utf8'))
  for (const step of steps) handle.prepare('INSERT INTO migration VALUES (?)').run(step)
  openPlace(handle).move('today', 0, '')
  handle.close()
  const stream: Stream = {
    ...{ made: 'today', replicas: 3, mostBytes: 100_000 },
    anew: async () => stream,
    state: async () => ({ first: 1, last: 0 }),
    read: async () => null,
    publish: async () => {},
    async follow(_from, heard) {
      hear = heard
      return { stop: async () => {} }
    },
  }
  const wishes = { file, migrationsDir: MIGRATIONS, keys, stream, log: openLog('silent'), check: () => () => {} }
  following = await followStream(wishes)
})
afterEach(async () => {
  await following.stop()
  rmSync(dir, { recursive: true, force: true })
})

const things = () => {
  const handle = new Database(file, { readonly: true })
  const all = handle.prepare('SELECT id FROM thing ORDER BY id').pluck().all()
  handle.close()
  return all
}
const NOT_OURS = 'Message 2 of the stream does not open with the keys of this copy: it is of another house, or was altered.'

test.each<[string, () => Part, string]>([
  ['forged by somebody without a key', () => ({ number: 2, messageId: 'm2', part: '1/1', body: 'forged' }), NOT_OURS],
  ['sealed by another house', () => messageAt(2, 2, keysOf('of another')), NOT_OURS],
  ['that stood there before, sent again', () => ({ ...messageAt(1, 1), number: 2 }), NOT_OURS],
  ['of which a letter was altered', () => altered(messageAt(2, 2)), NOT_OURS],
  ['that leaves one out', () => messageAt(3, 3), 'Message 2 of the stream is gone, and this copy has not had it.'],
])('a message %s changes nothing, and is said', async (_, part, words) => {
  hear(messageAt(1, 1))
  await expect.poll(things).toEqual([1])
  hear(part())
  hear(messageAt(4, 4))
  const reason = await following.broken.catch((why: unknown) => why)
  expect(reason).toBeInstanceOf(Conflict)
  expect(String(reason)).toContain(words)
  expect(String(reason)).toContain('Take a fresh copy of the house')
  expect([things(), following.number()]).toEqual([[1], 1])
})

test('one that comes twice is had once', async () => {
  for (const number of [1, 1, 2, 1, 2, 3]) hear(messageAt(number, number))
  await expect.poll(things).toEqual([1, 2, 3])
  expect(following.number()).toBe(3)
})
