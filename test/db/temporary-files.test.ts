import { mkdtempSync, readdirSync, readlinkSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openDatabase } from '#db/open'
import { sealingSteps } from '#sale/lots/sealing-steps'

const MIGRATIONS = join(import.meta.dirname, '..', '..', 'db', 'migrations')
const SEALING = sealingSteps({ seal: () => new Uint8Array(32) })

/** Files that this process has open whose name SQLite gave them for the while of one transaction; the system's list of them is Linux's. */
const temporaryFiles = () =>
  readdirSync('/proc/self/fd').filter((name) => {
    try {
      return readlinkSync(`/proc/self/fd/${name}`).includes('etilqs_')
    } catch {
      return false
    }
  })

test.skipIf(process.platform !== 'linux')('what a command may have to undo goes into no file outside the data folder', () => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-'))
  const { handle } = openDatabase(join(dir, 'tagstrip.db'), MIGRATIONS, SEALING)
  try {
    handle.exec('CREATE TABLE filled_page (at INTEGER PRIMARY KEY, words TEXT NOT NULL) STRICT')
    const write = handle.prepare('INSERT OR REPLACE INTO filled_page (at, words) VALUES (?, ?)')
    const fill = (words: string) => {
      for (let at = 0; at < 100; at++) write.run(at, words.repeat(4_000))
    }
    fill('a')
    handle.exec('BEGIN IMMEDIATE; SAVEPOINT command')
    fill('b')
    expect(temporaryFiles()).toEqual([])
    handle.exec('ROLLBACK TO command; RELEASE command; COMMIT')
    expect(handle.prepare("SELECT count(*) FROM filled_page WHERE words LIKE 'a%'").pluck().get()).toBe(100)
  } finally {
    handle.close()
    rmSync(dir, { recursive: true })
  }
})
