import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type RestoreWishes, restoreBackup } from '#runtime/disk/restore'
import { finishSwap } from '#runtime/disk/swap'
import { makeCampaign } from '#test/make/campaign'
import { makeCopy } from '#test/make/copy'
import { MIGRATIONS } from '#test/make/packed'
import { NOON, openStage } from '#test/stage'

const restore = (from: string, dataDir: string, wishes: Partial<RestoreWishes> = {}) =>
  restoreBackup(from, dataDir, { migrationsDir: MIGRATIONS, at: NOON, ...wishes })

/** Two houses, told apart by the name of their campaign, and a copy of each: made once, and laid out anew for each test. */
let shelf: string
let dir: string
let data: string
const made = { old: '', new: '' }

beforeAll(async () => {
  shelf = mkdtempSync(join(tmpdir(), 'tagstrip-restore-'))
  for (const which of ['old', 'new'] as const) {
    const stage = openStage({ dir: join(shelf, which) })
    await makeCampaign(stage, { name: which })
    made[which] = await makeCopy(stage.dir, join(shelf, 'copies', which), NOON)
    stage.house.close()
  }
})
afterAll(() => rmSync(shelf, { recursive: true, force: true }))

beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-restore-'))
  data = join(dir, 'data')
  cpSync(join(shelf, 'old'), data, { recursive: true })
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

/** The name of the campaign that stands in a folder, as a house finds it that opens there. */
const houseIn = (folder: string): string => {
  const handle = new Database(join(folder, 'tagstrip.db'), { fileMustExist: true })
  const name = String(handle.prepare('SELECT name FROM campaign').pluck().get())
  handle.close()
  expect(readdirSync(join(folder, 'keys')).length).toBeGreaterThan(1)
  return name
}

describe('a copy is put back', () => {
  test('from inside the data folder, where backups lie, and stays there', () => {
    const inside = join(data, 'backups', '2027-03-13T12-00-00-000Z')
    cpSync(made.new, inside, { recursive: true })
    const former = restore(inside, data)
    expect(houseIn(data)).toBe('new')
    expect(former).toBe(join(data, 'former-2027-03-13T12-00-00-000Z'))
    expect(former && houseIn(former)).toBe('old')
    expect(existsSync(join(inside, 'manifest.json'))).toBe(true)
    // And again from there.
    expect(restore(inside, data)).toBe(join(data, 'former-2027-03-13T12-00-00-000Z-2'))
    expect(houseIn(data)).toBe('new')
  })

  test('from a folder of copies of its own inside the data folder', () => {
    const inside = join(data, 'my copies', 'one')
    cpSync(made.new, inside, { recursive: true })
    restore(inside, data)
    expect(houseIn(data)).toBe('new')
  })

  test('where the folder is named with a slash at its end, where it is a link, and where it is not there yet', () => {
    restore(made.new, `${data}/`)
    expect(houseIn(data)).toBe('new')
    const link = join(dir, 'link')
    const target = join(dir, 'target')
    cpSync(join(shelf, 'old'), target, { recursive: true })
    symlinkSync(target, link)
    expect(restore(made.new, link)).toBe(join(link, 'former-2027-03-13T12-00-00-000Z'))
    expect(houseIn(target)).toBe('new')
    expect(restore(made.new, join(dir, 'not', 'there'))).toBeNull()
    expect(houseIn(join(dir, 'not', 'there'))).toBe('new')
  })

  test('and opens as a house', async () => {
    restore(made.new, data)
    const stage = openStage({ dir: data })
    expect(stage.db.$client.prepare('SELECT name FROM campaign').pluck().get()).toBe('new')
    stage.house.close()
  })
})

describe('what is refused, in words and with nothing changed', () => {
  const refused = (from: string, folder = data, wishes: Partial<RestoreWishes> = {}): string => {
    const before = existsSync(data) ? readdirSync(data).sort() : []
    try {
      restore(from, folder, wishes)
    } catch (reason) {
      expect(readdirSync(data).sort()).toEqual(before)
      expect(houseIn(data)).toBe('old')
      return reason instanceof Error ? reason.message : String(reason)
    }
    return 'it was taken'
  }
  const copyOf = (change: (copy: string) => void): string => {
    const copy = join(dir, 'copy')
    cpSync(made.new, copy, { recursive: true })
    change(copy)
    return copy
  }

  test('a folder that holds anything else', () => {
    writeFileSync(join(data, 'letters.odt'), 'mine')
    expect(refused(made.new)).toBe(
      `${data} holds something that is not a house's: letters.odt. Nothing was changed. Set DATA_DIR to the folder of a house, or to a new one.`,
    )
  })

  test('a link that leads nowhere, and what is no folder', () => {
    const link = join(dir, 'link')
    symlinkSync(join(dir, 'nowhere'), link)
    expect(refused(made.new, link)).toBe(`${link} is a link that leads nowhere. Nothing was changed.`)
    writeFileSync(join(dir, 'file'), '')
    expect(refused(made.new, join(dir, 'file'))).toContain('is no folder')
    const below = join(dir, 'file', 'below')
    expect(refused(made.new, below)).toBe(`${join(dir, 'file')} is a file, so there can be no folder ${below} in it. Nothing was changed.`)
    expect(refused(join(dir, 'file'))).toBe(
      `${join(dir, 'file')} is a file. Name the folder of a copy, the one that has manifest.json in it.`,
    )
    expect(refused(join(dir, 'nowhere'))).toContain('There is no folder')
  })

  test('a copy that is damaged or not whole, or whose list of contents leads elsewhere', () => {
    expect(refused(copyOf((copy) => appendFileSync(join(copy, 'tagstrip.db'), 'x')))).toBe(
      'The copy is damaged: tagstrip.db is not what was written.',
    )
    rmSync(join(dir, 'copy'), { recursive: true })
    expect(refused(copyOf((copy) => rmSync(join(copy, 'keys'), { recursive: true })))).toContain('The copy is not whole: keys/')
    rmSync(join(dir, 'copy'), { recursive: true })
    const leading = copyOf((copy) => {
      const manifest = JSON.parse(readFileSync(join(copy, 'manifest.json'), 'utf8'))
      manifest.files['../outside'] = '0'.repeat(64)
      writeFileSync(join(copy, 'manifest.json'), JSON.stringify(manifest))
    })
    expect(refused(leading)).toBe('The copy is damaged: its manifest.json is not what was written.')
    expect(refused(dir)).toBe(`${dir} is not a copy of a house: it has no manifest.json.`)
  })

  test('a copy of a newer program, by the name of its step', () => {
    const few = join(dir, 'migrations')
    mkdirSync(few)
    writeFileSync(join(few, '0001-the-beginning.sql'), '')
    expect(refused(made.new, data, { migrationsDir: few })).toMatch(
      /^The copy was made by a newer Tagstrip: this one does not know the step \d{4}-[a-z0-9-]+\.sql of its database\. Nothing was changed\. Update the program/,
    )
  })

  test('a disk that is full in the middle, and a part that cannot be moved away', () => {
    const full = (name: string) => {
      if (name.startsWith('copy keys/')) throw Object.assign(new Error('ENOSPC: no space left on device'), { code: 'ENOSPC' })
    }
    expect(refused(made.new, data, { step: full })).toBe(
      `The copy could not be read into ${data}: the disk is full. The house there was not touched.`,
    )
    const busy = (name: string) => {
      if (name === 'away keys') throw Object.assign(new Error('EBUSY: resource busy or locked'), { code: 'EBUSY' })
    }
    expect(refused(made.new, data, { step: busy })).toBe(
      `The house in ${data} could not be moved out of the way: a part of it is a disk of its own, or is in use. It stands there as before. Set DATA_DIR to a new folder instead.`,
    )
  })
})

test('killed at any step, the old house or the new one stands there, and the next start finishes what was begun', () => {
  // A log of the database that was not taken in, which must not get beside the new one.
  writeFileSync(join(data, 'tagstrip.db-wal'), '')
  const snapshots: [string, string][] = []
  restore(made.new, data, {
    step: (name) => {
      const snapshot = join(dir, `at-${snapshots.length}`)
      cpSync(data, snapshot, { recursive: true })
      snapshots.push([name, snapshot])
    },
  })
  const names = snapshots.map(([name]) => name)
  for (const name of ['copy tagstrip.db', 'decide', 'former', 'away tagstrip.db', 'away keys', 'in tagstrip.db', 'in keys', 'sync', 'end'])
    expect(names).toContain(name)
  const decided = names.indexOf('former')
  for (const [place, [, snapshot]] of snapshots.entries()) {
    const words = finishSwap(snapshot)
    expect(houseIn(snapshot)).toBe(place < decided ? 'old' : 'new')
    if (place < decided) expect(words).toBeNull()
    else {
      expect(words).toContain('That is finished now; what stood there before is in')
      expect(houseIn(join(snapshot, 'former-2027-03-13T12-00-00-000Z'))).toBe('old')
      expect(readdirSync(snapshot)).not.toContain('swap.json')
    }
    // Once more there is nothing to do, and a further copy can be put back.
    expect(finishSwap(snapshot)).toBeNull()
    restore(made.old, snapshot, { at: NOON + 1 })
    expect(houseIn(snapshot)).toBe('old')
    expect(readdirSync(snapshot).filter((name) => name.startsWith('incoming-'))).toEqual([])
  }
})
