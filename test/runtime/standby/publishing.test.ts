import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { openKeys } from '#runtime/disk/keys'
import type { Log } from '#runtime/settings/log'
import type { Holder } from '#runtime/standby/lease'
import type { Machines } from '#runtime/standby/machines'
import type { Part } from '#runtime/standby/message'
import { openPublishing } from '#runtime/standby/publishing'
import type { Stream } from '#runtime/standby/stream'
import { MIGRATIONS } from '#test/make/packed'

const STEPS = ['0047-what-goes-to-other-machines-before-it-is-answered.sql', '0052-a-house-that-was-overtaken-knows-it.sql']
const self = { id: 'this', name: 'this machine', address: 'http://this.example' }

let dir: string
let handle: Database.Database
beforeEach(() => {
  vi.useFakeTimers()
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-publishing-'))
  handle = new Database(join(dir, 'a.db'))
  handle.exec('CREATE TABLE migration (name TEXT PRIMARY KEY); CREATE TABLE thing (id INTEGER PRIMARY KEY)')
  for (const step of STEPS) handle.exec(readFileSync(join(MIGRATIONS, step), 'utf8'))
})
afterEach(() => {
  vi.useRealTimers()
  handle.close()
  rmSync(dir, { recursive: true, force: true })
})

/** A house between servers that are there or gone, and a lease that somebody else may have. */
async function openTrial() {
  const held: Part[] = []
  const trial = {
    isReached: true,
    holder: { ...self, since: '2030-01-01T00:00:00.000Z' } as Holder,
    said: [] as string[],
    ended: [] as string[],
  }
  const orThrow = () => {
    if (!trial.isReached) throw new Error('timeout')
  }
  const stream: Stream = {
    made: 'today',
    replicas: 3,
    mostBytes: 100_000,
    anew: async () => stream,
    async state() {
      orThrow()
      return { first: 1, last: held.length }
    },
    read: async (number) => held[number - 1] ?? null,
    async publish(part) {
      orThrow()
      held.push(part)
    },
    follow: async () => ({ stop: async () => {} }),
  }
  const machines = {
    nats: { trouble: () => null },
    stream,
    lease: {
      self,
      take: async () => trial.holder,
      holder: async () => trial.holder,
      release: async () => {},
      standsBy: async () => {},
      followers: async () => [{ name: 'the other', number: held.length }],
    },
    self,
    waitForLease: async () => trial.holder,
    isGivenAway: () => true,
    giveAway: () => {},
    close: async () => {},
  } as unknown as Machines
  const note = (words: unknown) => void trial.said.push(String(words))
  const log = {
    error: note,
    info: (...words: unknown[]) => note(words.at(-1)),
    warn: () => {},
    debug: () => {},
    fatal: () => {},
  } as unknown as Log
  const publishing = openPublishing({
    handle,
    keys: openKeys(join(dir, 'keys')),
    log,
    machines: async () => machines,
    isAlone: false,
    beginsAnew: false,
    said: () => {},
    ended: (words) => void trial.ended.push(words),
  })
  await publishing.begin()
  trial.said.length = 0
  const change = () => {
    handle.transaction(() => {
      handle.exec('INSERT INTO thing DEFAULT VALUES')
      publishing.keep()
    })()
    publishing.send({ held: () => {}, tooLate: () => {} })
  }
  return { trial, publishing, change }
}

const overtakenAt = () => handle.prepare('SELECT overtaken_at FROM published_group').pluck().get()

test('the log says once that the servers are not reached, and once that they are again', async () => {
  const { trial, publishing, change } = await openTrial()
  trial.isReached = false
  change()
  change()
  await vi.advanceTimersByTimeAsync(20_000)
  expect(publishing.trouble()).toContain('are not reached')
  expect(trial.said).toEqual([expect.stringContaining('NATS is not reached')])
  trial.isReached = true
  await vi.advanceTimersByTimeAsync(2_000)
  expect(publishing.trouble()).toBeNull()
  expect(trial.said).toEqual([expect.stringContaining('is not reached'), expect.stringContaining('is reached again')])
  await publishing.close()
})

test('it knows who follows, and how far', async () => {
  const { publishing } = await openTrial()
  await vi.advanceTimersByTimeAsync(2_500)
  expect(publishing.howFar()).toMatchObject({ servers: 3, confirmed: 1, followers: [{ name: 'the other', number: 1 }] })
  await publishing.close()
})

test('a house that ends because another machine writes keeps that with what it knows', async () => {
  const { trial, publishing } = await openTrial()
  expect(overtakenAt()).toBeNull()
  trial.holder = { ...trial.holder, id: 'other', name: 'the other' }
  await vi.advanceTimersByTimeAsync(1_500)
  expect(trial.ended).toEqual([expect.stringContaining('the other')])
  expect(Number(overtakenAt())).toBeGreaterThan(0)
  await publishing.close()
})

test('one that may not open because another machine writes keeps it as well', async () => {
  const { trial, publishing } = await openTrial()
  trial.holder = { ...trial.holder, id: 'other', name: 'the other' }
  await expect(publishing.begin()).rejects.toThrow('Another machine writes')
  expect(Number(overtakenAt())).toBeGreaterThan(0)
  await publishing.close()
})
