import { chmodSync, lstatSync, mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { narrowHouse, refuseReadableByOthers } from '#runtime/disk/owner-alone'
import { openStage } from '#test/stage'

// Whoever runs this may be root, who reads anything: what others may do is told by the modes.

let dir: string
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-modes-'))
  openStage({ dir }).house.close()
  mkdirSync(join(dir, 'backups', 'one', 'keys'), { recursive: true })
  writeFileSync(join(dir, 'backups', 'one', 'keys', 'seal.secret'), 'secret')
  chmodSync(dir, 0o755)
  for (const path of below(dir)) chmodSync(path, statSync(path).isDirectory() ? 0o775 : 0o664)
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

const below = (path: string): string[] =>
  readdirSync(path).flatMap((name) => {
    const inner = join(path, name)
    return lstatSync(inner).isDirectory() ? [inner, ...below(inner)] : [inner]
  })
const modeOf = (path: string) => lstatSync(path).mode & 0o777
const widest = () => [dir, ...below(dir)].filter((path) => (modeOf(path) & 0o077) !== 0)

test('a house that others may read is narrowed when it opens: folder, database, keys and copies', () => {
  expect(widest().length).toBeGreaterThan(8)
  openStage({ dir }).house.close()
  expect(widest()).toEqual([])
  expect([modeOf(dir), modeOf(join(dir, 'keys', 'seal.secret')), modeOf(join(dir, 'tagstrip.db'))]).toEqual([0o700, 0o600, 0o600])
})

test('what else lies in the folder stays as it is, and so does the folder then; the house’s own is narrowed', () => {
  writeFileSync(join(dir, 'notes of somebody'), 'words')
  chmodSync(join(dir, 'notes of somebody'), 0o644)
  expect(narrowHouse(dir)).toEqual([])
  expect(widest()).toEqual([dir, join(dir, 'notes of somebody')])
})

test('a link leads nowhere: what it points to keeps its mode', () => {
  const outside = mkdtempSync(join(tmpdir(), 'tagstrip-outside-'))
  const file = join(outside, 'a file')
  writeFileSync(file, 'words')
  chmodSync(file, 0o644)
  symlinkSync(outside, join(dir, 'photographs', 'elsewhere'))
  expect(narrowHouse(dir)).toEqual([])
  expect(modeOf(file)).toBe(0o644)
  rmSync(outside, { recursive: true })
})

const mayNot = () => {
  throw Object.assign(new Error('operation not permitted'), { code: 'EPERM' })
}

test('where it cannot be narrowed the start is refused, with the command that does it', () => {
  expect(() => refuseReadableByOthers(dir, mayNot)).toThrow(
    `and this could not be changed. As whoever owns it, or as root:\n  chmod -R go= ${dir}\n`,
  )
  // A file system that takes the command and keeps its modes.
  expect(() => refuseReadableByOthers(dir, () => {})).toThrow('keeps no modes: set DATA_DIR')
  writeFileSync(join(dir, 'notes of somebody'), 'words')
  expect(() => refuseReadableByOthers(dir, mayNot)).toThrow(`${join(dir, 'keys')} `)
  expect(() => refuseReadableByOthers(dir, mayNot)).not.toThrow('notes of somebody')
})

test('one that is narrow already asks for no leave', () => {
  openStage({ dir }).house.close()
  expect(() => refuseReadableByOthers(dir, mayNot)).not.toThrow()
})
