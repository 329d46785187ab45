import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { startWords } from '#house/programs/start-words'
import { openStage } from '#test/stage'

const fault = (code: string, message: string, more = {}) => Object.assign(new Error(message), { code, ...more })

describe('what keeps a house from opening is said with what to do', () => {
  test.each([
    ['SQLITE_CORRUPT', 'database disk image is malformed', ['/srv/house/tagstrip.db', 'is damaged', 'npm run restore']],
    ['SQLITE_NOTADB', 'file is not a database', ['/srv/house/tagstrip.db', 'is damaged', 'npm run restore']],
    ['SQLITE_CANTOPEN', 'unable to open database file', ['/srv/house/tagstrip.db', 'may not be read or written', 'chown -R']],
    ['SQLITE_READONLY', 'attempt to write a readonly database', ['/srv/house/tagstrip.db', 'chown -R']],
    ['SQLITE_IOERR_READ', 'disk I/O error', ['The disk of /srv/house failed', 'to another disk']],
    ['SQLITE_FULL', 'database or disk is full', ['no room on the disk of /srv/house', 'Make room']],
  ])('%s', (code, message, said) => {
    const words = startWords(fault(code, message), { dataDir: '/srv/house' })
    for (const part of [message, ...said]) expect(words).toContain(part)
  })

  test('a file is named that the system names', () => {
    const words = startWords(
      fault('EACCES', "EACCES: permission denied, scandir '/srv/house/photographs'", { path: '/srv/house/photographs' }),
    )
    expect(words).toMatch(/^\/srv\/house\/photographs may not be read/)
    const note = '/srv/house/held-by-1-1.json'
    expect(startWords(fault('EROFS', `EROFS: read-only file system, open '${note}'`, { path: note }))).toContain('may only be read')
    expect(startWords(fault('ENOSPC', `ENOSPC: no space left on device, open '${note}'`), { dataDir: '/srv/house' })).toContain(
      'no more files',
    )
  })

  test('a port that is for others is no matter of the folder', () => {
    expect(startWords(fault('EACCES', 'listen EACCES: permission denied 0.0.0.0:80'))).toContain('Set PORT')
  })
})

describe('a real file', () => {
  let dir: string
  beforeEach(() => {
    dir = mkdtempSync(join(tmpdir(), 'tagstrip-start-'))
  })
  afterEach(() => rmSync(dir, { recursive: true, force: true }))

  const saidOf = (folder: string): string => {
    try {
      openStage({ dir: folder }).close()
      return ''
    } catch (reason) {
      return startWords(reason, { dataDir: folder })
    }
  }

  test('that was overwritten', () => {
    const folder = join(dir, 'house')
    mkdirSync(folder, { mode: 0o700 })
    writeFileSync(join(folder, 'tagstrip.db'), 'no database at all, but long enough to be looked at by whoever opens it'.repeat(200), {
      mode: 0o600,
    })
    const words = saidOf(folder)
    expect(words).toContain(`${join(folder, 'tagstrip.db')} is damaged`)
    expect(words).toContain('npm run restore')
  })
})
