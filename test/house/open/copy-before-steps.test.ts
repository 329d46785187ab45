import {
  closeSync,
  cpSync,
  existsSync,
  ftruncateSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { standingIn, stepsIn } from '#db/steps'
import { openKeys } from '#runtime/disk/keys'
import { readManifest } from '#runtime/disk/manifest'
import { restoreBackup } from '#runtime/disk/restore'
import { thinBackups } from '#runtime/disk/thin-backups'
import { buildThen, schemaOfToday } from '#test/db/earlier-schemas'
import { MIGRATIONS } from '#test/make/packed'
import { NOON, openStage, type Stage } from '#test/stage'

let dir: string
let data: string
let stage: Stage | null = null
const [secondLast = '', last = ''] = stepsIn(MIGRATIONS).slice(-2)
const missing = [secondLast, last]

beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-before-'))
  data = join(dir, 'data')
  mkdirSync(data)
  buildThen(join(data, 'tagstrip.db'), schemaOfToday().slice(0, -2))
  openKeys(join(data, 'keys'))
  mkdirSync(join(data, 'photographs'))
  writeFileSync(join(data, 'photographs', 'one.webp'), 'one')
})
afterEach(() => {
  stage?.house.close()
  stage = null
  rmSync(dir, { recursive: true, force: true })
})

const open = () => {
  stage = openStage({ dir: data })
}

describe('a house whose database has to be changed', () => {
  test('is copied first, under a name that says why, and can be put back by the program of then', () => {
    open()
    const name = `2027-03-13T12-00-00-000Z-before-${secondLast.replace('.sql', '')}`
    expect(readdirSync(join(data, 'backups'))).toEqual([name])
    const copy = join(data, 'backups', name)
    expect(readManifest(copy).madeFor).toBe('a step')
    expect(standingIn(join(copy, 'tagstrip.db'), MIGRATIONS)?.missing).toEqual(missing)
    expect(standingIn(join(data, 'tagstrip.db'), MIGRATIONS)?.missing).toEqual([])
    const ofThen = join(dir, 'steps')
    cpSync(MIGRATIONS, ofThen, { recursive: true })
    for (const step of missing) rmSync(join(ofThen, step))
    restoreBackup(copy, join(dir, 'again'), { migrationsDir: ofThen, at: NOON })
    expect(readFileSync(join(dir, 'again', 'photographs', 'one.webp'), 'utf8')).toBe('one')
    // What the program of today made of it, that of then refuses.
    expect(() => restoreBackup(copy, data, { migrationsDir: ofThen, at: NOON })).toThrow('is in use')
    thinBackups(join(data, 'backups'), 0)
    expect(readdirSync(join(data, 'backups'))).toEqual([name])
  })

  test('is not copied where nothing is changed, nor when it is new', () => {
    open()
    stage?.house.close()
    open()
    expect(readdirSync(join(data, 'backups'))).toHaveLength(1)
    const fresh = openStage()
    expect(existsSync(join(fresh.dir, 'backups'))).toBe(false)
    fresh.close()
  })

  test('is left as it is, in words, where there is no room for the copy', () => {
    const handle = openSync(join(data, 'photographs', 'vast.webp'), 'w')
    ftruncateSync(handle, 2 ** 43)
    closeSync(handle)
    expect(open).toThrow(
      /^This program has to change the database in .* and makes a copy of the house first, which was not possible\. It needs \d+ MB of room, .* The house is as it was\.$/,
    )
    expect(standingIn(join(data, 'tagstrip.db'), MIGRATIONS)?.missing).toEqual(missing)
    rmSync(join(data, 'photographs', 'vast.webp'))
    open()
  })
})

test('a house that a newer program has changed is refused by the name of the step, and nothing is written', () => {
  const later = schemaOfToday().concat([
    { name: '0099-what-nobody-knows-yet.sql', sql: 'CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT;' },
  ])
  rmSync(data, { recursive: true })
  mkdirSync(data)
  buildThen(join(data, 'tagstrip.db'), later)
  const before = readFileSync(join(data, 'tagstrip.db'))
  expect(open).toThrow(
    `The house in ${data} was made by a newer Tagstrip: this one does not know the step 0099-what-nobody-knows-yet.sql of its database. Nothing was changed.`,
  )
  expect(readdirSync(data).filter((name) => !/^tagstrip\.db|^house\.lock$/.test(name))).toEqual([])
  expect(readFileSync(join(data, 'tagstrip.db')).equals(before)).toBe(true)
})
