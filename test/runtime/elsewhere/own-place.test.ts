import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openFolderPlace } from '#runtime/elsewhere/folder-place'
import { openOwnPlace } from '#runtime/elsewhere/own-place'

let dir: string
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-own-'))
  for (const name of ['place', 'one', 'other']) mkdirSync(join(dir, name))
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

const NOTHING = { generation: null, last: null, goodUntil: null }
const KNOWN = { generation: '0123456789abcdef', last: 'generations/0123456789abcdef/wal/00000000_00000000.wal.lz4', goodUntil: 1_000 }
const own = (house: string, folder: string, watchMs = 60_000) =>
  openOwnPlace({
    place: openFolderPlace(join(dir, 'place')),
    to: { kind: 'folder', path: join(dir, 'place') },
    house,
    dataDir: join(dir, folder),
    lastMigration: '0001.sql',
    watchMs,
  })
const markThere = () => readFileSync(join(dir, 'place', 'house.json'), 'utf8')

test('the copy of another house is never written to', async () => {
  await own('the first', 'one').hold(KNOWN)
  const before = markThere()
  const other = own('the second', 'other')
  await expect(other.hold(NOTHING)).rejects.toThrow(
    "it holds a copy of another house, whose first key is the first; this one's is the second",
  )
  expect(other.isOurs()).toBe(false)
  expect(markThere()).toBe(before)
  expect(readdirSync(join(dir, 'place'))).toEqual(['house.json'])
})

test('what was never marked by a house is left alone', async () => {
  mkdirSync(join(dir, 'place', 'database'))
  writeFileSync(join(dir, 'place', 'database', 'mine'), '')
  await expect(own('the first', 'one').hold(NOTHING)).rejects.toThrow('not a copy of a house')
  expect(readdirSync(join(dir, 'place'))).toEqual(['database'])
})

test('the same house in another folder waits while the first still writes, and takes over when it is silent', async () => {
  const first = own('a house', 'one')
  await first.hold(KNOWN)
  const second = own('a house', 'other', 30)
  await expect(second.hold(NOTHING)).rejects.toThrow('last written by this house on another machine')
  await new Promise((resolve) => setTimeout(resolve, 40))
  await first.hold(KNOWN, true)
  await expect(second.hold(NOTHING)).rejects.toThrow('last written by this house on another machine')
  await new Promise((resolve) => setTimeout(resolve, 40))
  expect(await second.hold(NOTHING)).toBe(true)
  // Until there is something newer, what lay there before is what can be read back.
  expect(JSON.parse(markThere())).toMatchObject({ generation: KNOWN.generation, last: KNOWN.last })
  // And the first, should it still live, writes nothing there any more.
  await expect(first.hold(KNOWN, true)).rejects.toThrow('another machine writes the copy there since')
  expect(first.isOurs()).toBe(false)
})

test('a copy that has gone is noticed', async () => {
  const first = own('a house', 'one')
  await first.hold(KNOWN)
  rmSync(join(dir, 'place', 'house.json'))
  await expect(first.hold(KNOWN, true)).rejects.toThrow('has gone. If its disk is not mounted')
})
