import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { type Holding, holdFolder } from '#runtime/disk/hold'
import { restoreBackup } from '#runtime/disk/restore'
import { makeCopy } from '#test/make/copy'
import { MIGRATIONS } from '#test/make/packed'
import { NOON, openStage } from '#test/stage'

let dir: string
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-hold-'))
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

const isTaken = (holding: Holding): boolean => {
  try {
    holdFolder(dir, holding, 'a test').release()
    return false
  } catch (reason) {
    expect(String(reason)).toContain(`${dir} is in use: process `)
    return true
  }
}

/** Another process that takes the lock with nothing but the driver, and waits to be killed. */
async function holdElsewhere(begin: string): Promise<ChildProcess> {
  const driver = createRequire(import.meta.url).resolve('better-sqlite3')
  const program = `const lock = new (require(${JSON.stringify(driver)}))(${JSON.stringify(join(dir, 'house.lock'))})
    lock.exec(${JSON.stringify(begin)}); lock.prepare('SELECT count(*) FROM sqlite_schema').get()
    require('node:fs').writeFileSync(${JSON.stringify(dir)} + '/held-by-' + process.pid + '-1.json',
      JSON.stringify({ pid: process.pid, as: 'an open house', since: '2027-03-13T12:00:00.000Z' }))
    process.stdout.write('held'); setInterval(() => {}, 1000)`
  const child = spawn(process.execPath, ['-e', program], { stdio: ['ignore', 'pipe', 'inherit'] })
  await once(child.stdout, 'data')
  return child
}

test('one house lives in a folder, commands read beside it, and whoever swaps it has it alone', () => {
  const takenBy = (holding: Holding) => {
    const hold = holdFolder(dir, holding, 'the first')
    const taken = (['reads', 'lives', 'swaps'] as const).filter(isTaken)
    hold.release()
    return taken
  }
  expect(takenBy('reads')).toEqual(['swaps'])
  expect(takenBy('lives')).toEqual(['lives', 'swaps'])
  expect(takenBy('swaps')).toEqual(['reads', 'lives', 'swaps'])
  expect(readdirSync(dir)).toEqual(['house.lock'])
})

test('the second is told which process has it; when that is killed, the folder is free again', async () => {
  const child = await holdElsewhere('BEGIN IMMEDIATE')
  expect(() => holdFolder(dir, 'lives', 'an open house')).toThrow(
    `${dir} is in use: process ${child.pid} has it, an open house, since 2027-03-13T12:00:00.000Z. Nothing was changed. Close that first, and do this again.`,
  )
  child.kill('SIGKILL')
  await once(child, 'exit')
  const hold = holdFolder(dir, 'lives', 'an open house')
  expect(existsSync(join(dir, `held-by-${child.pid}-1.json`))).toBe(false)
  hold.release()
})

test('a note that cannot be taken away undoes nothing that was done, and the folder is free', () => {
  const hold = holdFolder(dir, 'swaps', 'npm run pack')
  const [note = ''] = readdirSync(dir).filter((name) => name.startsWith('held-by-'))
  // Nothing takes a folder away that is not empty, where a file was.
  rmSync(join(dir, note))
  mkdirSync(join(dir, note, 'within'), { recursive: true })
  hold.release()
  expect(isTaken('swaps')).toBe(false)
})

test('a second house does not start on the same folder, nor is one put in its place', async () => {
  const first = openStage({ dir })
  const copy = await makeCopy(dir, join(dir, 'backups'), NOON)
  expect(() => openStage({ dir })).toThrow(`process ${process.pid} has it, an open house`)
  expect(() => restoreBackup(copy, dir, { migrationsDir: MIGRATIONS, at: NOON })).toThrow(`process ${process.pid} has it, an open house`)
  first.house.close()
  openStage({ dir }).house.close()
  restoreBackup(copy, dir, { migrationsDir: MIGRATIONS, at: NOON })
  openStage({ dir }).house.close()
})
