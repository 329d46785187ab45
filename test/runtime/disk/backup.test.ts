import {
  appendFileSync,
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
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import Database from 'better-sqlite3'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { CopyOrder } from '#runtime/disk/backup'
import { copyDatabase } from '#runtime/disk/copy-database'
import { copyFile, digestOf, eachPiece } from '#runtime/disk/copy-files'
import { listCopies, newestBackup, readManifest } from '#runtime/disk/manifest'
import { restoreBackup } from '#runtime/disk/restore'
import { OF_THE_DAY, thinBackups } from '#runtime/disk/thin-backups'
import { makeCampaign } from '#test/make/campaign'
import { makeCopy } from '#test/make/copy'
import { MIGRATIONS } from '#test/make/packed'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let dir: string
beforeEach(() => {
  stage = openStage()
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-backup-'))
})
afterEach(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

const copyNow = (at = NOON, also: Partial<CopyOrder> = {}) => makeCopy(stage.dir, dir, at, also)
const OF_DAY = { madeFor: 'the day', why: OF_THE_DAY } as const

const restore = (from: string, dataDir: string, at = NOON) => restoreBackup(from, dataDir, { migrationsDir: MIGRATIONS, at })

const nameIn = (folder: string) => {
  const copy = new Database(join(folder, 'tagstrip.db'), { readonly: true })
  const name = copy.prepare('SELECT name FROM campaign').pluck().get()
  copy.close()
  return name
}

async function keepPhotograph(background = '#97461a'): Promise<string> {
  const picture = await sharp({ create: { width: 20, height: 10, channels: 3, background } })
    .png()
    .toBuffer()
  const { sha } = await stage.house.photographs.keep(picture)
  return `photographs/${sha}-480.webp`
}

/** Fills the database, so that a copy of it takes many goes. */
const fill = (megabytes: number) =>
  stage.command(({ db }) => {
    db.run('CREATE TABLE filler (n INTEGER PRIMARY KEY, bytes BLOB NOT NULL) STRICT')
    for (let n = 0; n < megabytes; n++) db.run('INSERT INTO filler (bytes) VALUES (randomblob(1000000))')
  })

test('a copy that was made while the house is open brings everything back', async () => {
  await makeCampaign(stage, { name: 'Kept Day' })
  const photograph = await keepPhotograph()
  const made = await copyNow()
  const elsewhere = join(dir, 'restored')
  expect(restore(made, elsewhere)).toBeNull()
  expect(nameIn(elsewhere)).toBe('Kept Day')
  expect(existsSync(join(elsewhere, photograph))).toBe(true)
  expect(readdirSync(join(elsewhere, 'keys')).sort()).toEqual(readdirSync(join(stage.dir, 'keys')).sort())
})

test('what stood there is moved aside, not deleted', async () => {
  await makeCampaign(stage, { name: 'Before' })
  const made = await copyNow()
  const target = join(dir, 'target')
  restore(made, target)
  const aside = restore(made, target, NOON + 1)
  expect(aside && nameIn(aside)).toBe('Before')
})

test('a copy with one byte too many is refused and nothing is touched', async () => {
  await makeCampaign(stage)
  const made = await copyNow()
  appendFileSync(join(made, 'tagstrip.db'), 'x')
  expect(() => restore(made, join(dir, 'target'))).toThrow('damaged')
  expect(existsSync(join(dir, 'target'))).toBe(false)
})

test('a folder that is no copy is refused in words', () => {
  expect(() => restore(dir, join(dir, 'target'))).toThrow('no manifest.json')
})

test('a copy of an earlier program, whose manifest does not say for whom it was made, is read as well', async () => {
  await makeCampaign(stage, { name: 'Earlier' })
  const made = await copyNow()
  const file = join(made, 'manifest.json')
  const { madeAt, files } = JSON.parse(readFileSync(file, 'utf8'))
  writeFileSync(file, JSON.stringify({ madeAt, files }))
  restore(made, join(dir, 'target'))
  expect(nameIn(join(dir, 'target'))).toBe('Earlier')
})

describe('while somebody writes', () => {
  test('a copy made from outside the house ends, and is the state of one instant', async () => {
    await fill(6)
    const { $client: writer } = stage.db
    const add = writer.prepare('INSERT INTO filler (bytes) VALUES (zeroblob(100))')
    const count = (handle: Database.Database) => Number(handle.prepare('SELECT count(*) FROM filler').pluck().get())
    let writes = 0
    let isCopied = false
    const write = () => {
      if (isCopied) return
      add.run()
      writes += 1
      setImmediate(write)
    }
    const copying = copyNow()
    setImmediate(write)
    const made = await copying
    isCopied = true
    expect(writes).toBeGreaterThan(3)
    const copy = new Database(join(made, 'tagstrip.db'), { readonly: true })
    // Nothing that was written after its first page.
    expect(count(copy)).toBeLessThan(6 + writes)
    expect(count(copy)).toBeLessThanOrEqual(7)
    copy.close()
  })

  test('a copy is given up, in words, when the log of the database grows too large behind it', async () => {
    await fill(3)
    const to = join(dir, 'copy.db')
    await expect(copyDatabase(join(stage.dir, 'tagstrip.db'), to, () => {}, 1000)).rejects.toThrow(
      /^The copy was given up: while it was made, the log of the database grew to \d+ MB\./,
    )
  })

  test('how far it is is told', async () => {
    await fill(3)
    const told: number[] = []
    await copyDatabase(join(stage.dir, 'tagstrip.db'), join(dir, 'copy.db'), (done, of) => told.push(done / of))
    expect(told.length).toBeGreaterThan(2)
    expect(told).toEqual([...told].sort((a, b) => a - b))
  })
})

describe('photographs', () => {
  const inodeOf = (file: string) => statSync(file).ino

  test('are kept once over all copies of a folder, and each copy is whole without the others', async () => {
    const photograph = await keepPhotograph()
    const [first, second] = [await copyNow(NOON), await copyNow(NOON + 1)]
    // Of so small a picture the files of all widths are the same.
    const ofFirst = readdirSync(join(first, 'photographs')).map((name) => inodeOf(join(first, 'photographs', name)))
    expect(ofFirst).toContain(inodeOf(join(second, photograph)))
    // What the house goes on with is a file of its own: what happens to it does not happen to the copies.
    expect(ofFirst).not.toContain(inodeOf(join(stage.dir, photograph)))
    const elsewhere = join(dir, 'elsewhere')
    cpSync(second, elsewhere, { recursive: true })
    rmSync(first, { recursive: true })
    rmSync(second, { recursive: true })
    restore(elsewhere, join(dir, 'target'))
    expect(readFileSync(join(dir, 'target', photograph))).toEqual(readFileSync(join(stage.dir, photograph)))
  })

  test('are copied anew where an earlier copy of them is damaged', async () => {
    const photograph = await keepPhotograph()
    const first = await copyNow(NOON)
    for (const name of readdirSync(join(first, 'photographs'))) {
      const file = join(first, 'photographs', name)
      const bytes = readFileSync(file)
      bytes[40] = (bytes[40] ?? 0) ^ 1
      writeFileSync(file, bytes)
    }
    const second = await copyNow(NOON + 1)
    expect(digestOf(join(second, photograph))).toBe(digestOf(join(stage.dir, photograph)))
    expect(() => restore(first, join(dir, 'target'))).toThrow(/^The copy is damaged: photographs\/.* is not what was written\.$/)
    restore(second, join(dir, 'target'))
  })

  test('what is being written at this moment stays out', async () => {
    writeFileSync(join(stage.dir, 'photographs', 'half.webp.part'), 'half')
    writeFileSync(join(stage.dir, 'keys', 'session.secret.new'), 'half')
    const { files } = readManifest(await copyNow())
    expect(Object.keys(files).filter((path) => /part|new/.test(path))).toEqual([])
  })
})

describe('files of any size', () => {
  test('one of more than 2 GiB is read a piece at a time', () => {
    const file = join(dir, 'large')
    const handle = openSync(file, 'w')
    ftruncateSync(handle, 2 ** 31)
    writeSync(handle, 'the end', 2 ** 31)
    closeSync(handle)
    let bytes = 0
    let last = ''
    eachPiece(file, (piece) => {
      bytes += piece.byteLength
      last = piece.toString('latin1')
    })
    expect([bytes, last]).toEqual([2 ** 31 + 7, 'the end'])
  })

  test('a copy is what the digest says, and is never written over another file', () => {
    writeFileSync(join(dir, 'from'), Buffer.alloc(3_000_000, 7))
    expect(copyFile(join(dir, 'from'), join(dir, 'to'))).toBe(digestOf(join(dir, 'to')))
    expect(statSync(join(dir, 'to')).size).toBe(3_000_000)
    expect(() => copyFile(join(dir, 'from'), join(dir, 'to'))).toThrow('EEXIST')
  })
})

describe('room', () => {
  test('is asked for before anything is written', async () => {
    const handle = openSync(join(stage.dir, 'photographs', 'vast.webp'), 'w')
    ftruncateSync(handle, 2 ** 43)
    closeSync(handle)
    await expect(copyNow()).rejects.toThrow(/^It needs \d+ MB of room, and on the disk of .* there are \d+ MB\. Nothing was changed\./)
    expect(readdirSync(dir)).toEqual([])
  })

  test('a folder that is a file is refused in words', async () => {
    writeFileSync(join(dir, 'file'), '')
    await expect(makeCopy(stage.dir, join(dir, 'file'), NOON)).rejects.toThrow(
      `${join(dir, 'file')} is a file. Name a folder for the copies.`,
    )
    const below = join(dir, 'file', 'below')
    await expect(makeCopy(stage.dir, below, NOON)).rejects.toThrow(
      `${join(dir, 'file')} is a file, so there can be no folder ${below} in it.`,
    )
  })
})

describe('what a copy leaves that was killed', () => {
  /** No process has so large a number. */
  const dead = '2027-03-13T11-00-00-000Z.part-99999999'
  const ofEarlierProgram = '2027-03-13T11-00-00-000Z.part'

  test('is taken away by the next one; what is under way is left to its process, and what is no copy to whoever put it there', async () => {
    const living = `2027-03-13T11-30-00-000Z.part-${process.ppid}`
    for (const name of [dead, ofEarlierProgram, living, 'mine.part']) mkdirSync(join(dir, name))
    const made = await copyNow()
    expect(readdirSync(dir).sort()).toEqual([basename(made), living, 'mine.part'].sort())
  })

  test('is never taken for a copy, though it be whole but for its name', async () => {
    const made = await copyNow(NOON)
    const part = join(dir, 'backups', dead)
    cpSync(made, part, { recursive: true })
    expect(listCopies(join(dir, 'backups'))).toEqual([])
    expect(newestBackup(dir)).toBeNull()
    for (const named of [part, `${part}/`])
      expect(() => restore(named, join(dir, 'target'))).toThrow(
        `${named} is a copy that was not finished, or is being made or taken away at this moment. Name one without .part.`,
      )
  })

  test('is taken away when the house opens', () => {
    const into = join(stage.dir, 'backups')
    // As one that ran in a container, whose processes have the same numbers each time.
    const own = `2027-03-13T11-30-00-000Z.part-${process.pid}`
    for (const name of [dead, own]) mkdirSync(join(into, name), { recursive: true })
    stage.house.close()
    stage = openStage({ dir: stage.dir })
    expect(readdirSync(into)).toEqual([])
  })
})

describe('thinning', () => {
  test('takes the oldest of those that the house made on the day, and no other', async () => {
    const byHand = await copyNow(NOON - 1000)
    const beforeStep = await copyNow(NOON - 2000, { madeFor: 'a step', why: 'before-0044-more' })
    const ofDay: string[] = []
    for (let n = 0; n < 4; n++) ofDay.push(await copyNow(NOON + n * 1000, OF_DAY))
    const unsaid = await copyNow(NOON - 3000)
    writeFileSync(join(unsaid, 'manifest.json'), readFileSync(join(unsaid, 'manifest.json'), 'utf8').replace(/"madeFor": .*/, ''))
    thinBackups(dir, 2)
    expect(readdirSync(dir).sort()).toEqual([byHand, beforeStep, unsaid, ...ofDay.slice(2)].map((path) => basename(path)).sort())
    expect(ofDay[3]).toContain('2027-03-13T12-00-03-000Z-of-the-day')
  })

  test('leaves one that somebody gave a name of their own', async () => {
    const made = await copyNow(NOON, OF_DAY)
    cpSync(made, join(dir, 'before the last lot'), { recursive: true })
    rmSync(made, { recursive: true })
    await copyNow(NOON + 1, OF_DAY)
    thinBackups(dir, 0)
    expect(readdirSync(dir)).toEqual(['before the last lot'])
  })
})
