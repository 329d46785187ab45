import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { expect, onTestFinished, test } from 'vitest'
import { openDatabaseLog } from '#runtime/disk/database-log'

const READER = `
const Database = require('better-sqlite3')
const db = new Database(process.argv[1], { readonly: true })
db.exec('BEGIN')
db.prepare('SELECT count(*) FROM t').get()
process.stdout.write('reading')
process.stdin.once('data', () => process.exit(0))`

const LONG = 1024 * 1024

function open() {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-log-'))
  const handle = new Database(join(dir, 'tagstrip.db'))
  onTestFinished(() => {
    handle.close()
    rmSync(dir, { recursive: true, force: true })
  })
  handle.pragma('journal_mode = wal')
  handle.pragma('busy_timeout = 5000')
  handle.exec('CREATE TABLE t (x BLOB)')
  const insert = handle.prepare('INSERT INTO t VALUES (randomblob(100000))')
  const fill = () => {
    for (let count = 0; count < 80; count++) insert.run()
  }
  return { dir, handle, fill, walBytes: () => statSync(join(dir, 'tagstrip.db-wal')).size, log: openDatabaseLog(handle, dir, LONG) }
}

test('a log that grew beside a long reader is held up by whom it names, and made short when they are done', async () => {
  const { dir, handle, fill, walBytes, log } = open()
  const reader = spawn(process.execPath, ['-e', READER, join(dir, 'tagstrip.db')], { stdio: ['pipe', 'pipe', 'inherit'] })
  onTestFinished(() => void reader.kill())
  await new Promise((resolve) => reader.stdout.once('data', resolve))
  fill()
  const before = performance.now()
  const held = log.keepShort()
  // Nobody waits for the reader: SQLite's own patience is five seconds.
  expect(performance.now() - before).toBeLessThan(4_000)
  expect(held.bytes).toBeGreaterThan(LONG)
  if (process.platform === 'linux') expect(held.heldBy).toEqual([`process ${reader.pid} (node)`])
  else expect(held.heldBy).toHaveLength(1)
  expect(handle.pragma('busy_timeout', { simple: true })).toBe(5000)
  const gone = new Promise((resolve) => reader.once('exit', resolve))
  reader.stdin.write('.')
  await gone
  // SQLite writes such a log anew from its beginning, and leaves the file as long as it was.
  fill()
  expect(walBytes()).toBeGreaterThan(LONG)
  expect(log.keepShort()).toEqual({ bytes: 0, heldBy: [] })
  expect(walBytes()).toBe(0)
})

test('a short log is left alone, and so is one in the middle of a transaction', () => {
  const { handle, fill, walBytes, log } = open()
  expect(log.keepShort()).toEqual({ bytes: walBytes(), heldBy: [] })
  expect(walBytes()).toBeGreaterThan(0)
  fill()
  handle.exec('BEGIN IMMEDIATE')
  expect(log.keepShort().bytes).toBe(walBytes())
  handle.exec('COMMIT')
})
