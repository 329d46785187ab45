import { createWriteStream, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ZipFile } from 'yazl'
import { unpackHouse } from '#end/packs/unpack-house'
import { MOST_ENTRIES } from '#end/packs/zip-entries'
import { openZipReader } from '#end/packs/zip-reader'
import { type Body, openZipWriter } from '#end/packs/zip-writer'
import { refuseFullDisk } from '#runtime/disk/room'
import { makeCampaign } from '#test/make/campaign'
import { filesOf, MIGRATIONS, packInto } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'

const MB = 1024 * 1024
const BOMB_MB = 320
/** What reading may take beside what the test had before. A reader that holds one bomb as a whole takes half as much again, and as text three times as much. */
const MOST_GROWTH = 200 * MB

let stage: Stage
let dir: string
let whole: string
let contents: Map<string, Buffer>
beforeAll(async () => {
  stage = openStage()
  await makeCampaign(stage)
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-hostile-'))
  whole = await packInto(join(dir, 'whole.zip'), stage)
  contents = await filesOf(whole)
}, 180_000)
afterAll(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

/** Hundreds of megabytes of one byte, which deflate to a thousandth of that. */
async function* bomb(byte = 0, megabytes = BOMB_MB): AsyncGenerator<Uint8Array> {
  const chunk = new Uint8Array(MB).fill(byte)
  for (let n = 0; n < megabytes; n += 1) yield chunk
}

/** The pack written again with these bodies in the place of its own, under a manifest that names them rightly. */
async function rewritten(name: string, bodies: Readonly<Record<string, () => Body>>): Promise<string> {
  const { manifest, close } = await openZipReader(whole)
  close()
  const file = join(dir, name)
  const zip = openZipWriter(file, new Date(0))
  for (const [path, body] of contents) if (!(path in bodies)) await zip.add(path, body)
  for (const [path, body] of Object.entries(bodies)) await zip.add(path, body())
  const { files: _files, ...rest } = manifest
  // Of the version that carries no signature: whoever means harm signs nothing, or anything.
  await zip.finish({ ...rest, version: 1 })
  return file
}

/** An archive of whatever is handed in, with no manifest but one that is. */
async function archived(name: string, bodies: Iterable<[string, () => AsyncIterable<Uint8Array> | Iterable<Uint8Array>]>): Promise<string> {
  const file = join(dir, name)
  const zip = new ZipFile()
  for (const [path, body] of bodies)
    zip.addReadStreamLazy(path, { compress: true }, (give) => give(null, Readable.from(body(), { objectMode: false })))
  zip.end()
  await pipeline(zip.outputStream, createWriteStream(file))
  return file
}

/** Written here by PKWARE's APPNOTE 4.3: what writes archives otherwise takes a time that grows with the square of their files. */
function archiveOfEmptyFiles(many: number): Buffer {
  const local: Buffer[] = []
  const listed: Buffer[] = []
  for (let n = 0; n < many; n += 1) {
    const name = Buffer.from(`f${String(n).padStart(6, '0')}`)
    const header = Buffer.alloc(30)
    header.writeUInt32LE(0x04034b50)
    header.writeUInt16LE(name.length, 26)
    const entry = Buffer.alloc(46)
    entry.writeUInt32LE(0x02014b50)
    entry.writeUInt16LE(name.length, 28)
    entry.writeUInt32LE(n * (header.length + name.length), 42)
    local.push(header, name)
    listed.push(entry, name)
  }
  const [files, list] = [Buffer.concat(local), Buffer.concat(listed)]
  const end = Buffer.alloc(22)
  end.writeUInt32LE(0x06054b50)
  for (const at of [8, 10]) end.writeUInt16LE(many, at)
  end.writeUInt32LE(list.length, 12)
  end.writeUInt32LE(files.length, 16)
  return Buffer.concat([files, list, end])
}

/** What is said of a pack, and by how much the memory grew meanwhile. */
async function readBack(file: string, target = join(dir, 'never')): Promise<{ words: string; grown: number }> {
  const before = process.memoryUsage().rss
  let most = before
  const look = () => {
    most = Math.max(most, process.memoryUsage().rss)
  }
  const watch = setInterval(look, 5)
  try {
    await unpackHouse(file, target, MIGRATIONS, look)
    return { words: 'it was taken', grown: most - before }
  } catch (reason) {
    expect(existsSync(join(target, 'tagstrip.db'))).toBe(false)
    look()
    return { words: reason instanceof Error ? reason.message : String(reason), grown: most - before }
  } finally {
    clearInterval(watch)
  }
}

const body = (path: string) => (): Iterable<Uint8Array> => [contents.get(path) ?? Buffer.from(readFileSync(whole))]

describe('hundreds of megabytes that come out of a few hundred kilobytes are refused in words, and memory stays as it was', () => {
  const refused = async (file: string, words: string | RegExp) => {
    const { words: said, grown } = await readBack(file)
    expect(said).toMatch(words)
    expect(grown, `grew by ${Math.round(grown / MB)} MB`).toBeLessThan(MOST_GROWTH)
  }

  test('as the manifest', async () => {
    await refused(
      await archived('manifest.zip', [
        ['manifest.json', () => bomb(0x20)],
        ['README.txt', body('README.txt')],
      ]),
      /its manifest\.json has 335544320 bytes, and that of a pack of 1 files has \d+ at most/,
    )
  }, 120_000)

  test('as a table that its manifest names rightly', async () => {
    await refused(
      await rewritten('table.zip', { 'tables/fact.json': () => bomb() }),
      /tables\/fact\.json has a row of more than 4 MB|Make room there first/,
    )
  }, 120_000)

  test('as a photograph', async () => {
    await refused(
      await rewritten('photograph.zip', { [`photographs/${'a'.repeat(64)}-480.webp`]: () => bomb() }),
      /-480\.webp has 335544320 bytes; a photograph of a house has \d+ at most/,
    )
  }, 120_000)

  test('as a file of which the manifest says that it is short', async () => {
    const { manifest, close } = await openZipReader(whole)
    close()
    const bodies = [...contents.keys()].map((path): [string, () => AsyncIterable<Uint8Array> | Iterable<Uint8Array>] => [
      path,
      path === 'tables/fact.json' ? () => bomb() : body(path),
    ])
    const text = Buffer.from(JSON.stringify({ ...manifest, version: 1 }))
    await refused(await archived('lie.zip', [...bodies, ['manifest.json', () => [text]]]), 'tables/fact.json is not what was written')
  }, 120_000)
})

describe('what no pack is', () => {
  test('rows that are none, and lists that are not one row on a line', async () => {
    const said = async (text: string) =>
      (await readBack(await rewritten('rows.zip', { 'tables/fact.json': () => text }))).words.replace('The pack is damaged: ', '')
    expect(await said('{}\n')).toBe('tables/fact.json is not a list with one row on each line.')
    expect(await said('')).toBe('tables/fact.json is not a list with one row on each line.')
    expect(await said('[\n{"seq":1}\n')).toBe('row 1 of tables/fact.json has not the columns of its table, such as at.')
    expect(await said(`[\n${'['.repeat(100_000)}\n]\n`)).toBe('row 1 of tables/fact.json is no row.')
    expect(await said('[\n{"seq":{}}\n]\n')).toBe('row 1 of tables/fact.json is no row.')
    expect(await said('[\n{"seq":1,"at":"noon","kind":"a","subject":"b","body":"{}"}\n]\n')).toContain(
      'row 1 of tables/fact.json does not fit its table',
    )
    expect(await said('[]\n[]\n')).toBe('tables/fact.json is not a list with one row on each line.')
  }, 60_000)

  test('more files than a pack may hold', async () => {
    const many = join(dir, 'many.zip')
    writeFileSync(many, archiveOfEmptyFiles(MOST_ENTRIES + 1))
    expect((await readBack(many)).words).toBe(
      `The archive holds ${MOST_ENTRIES + 1} files; a pack may hold ${MOST_ENTRIES} at most. It was not opened.`,
    )
  }, 120_000)

  test('files that share their bytes, one inside another, or promise what cannot come out of them', async () => {
    const bytes = readFileSync(whole)
    const changed = async (path: string, change: (entry: Buffer) => void) => {
      const copy = Buffer.from(bytes)
      // 46 bytes stand before the name in the list of contents.
      change(copy.subarray(copy.lastIndexOf(path) - 46))
      const file = join(dir, 'changed.zip')
      writeFileSync(file, copy)
      return (await readBack(file)).words
    }
    const offset = 42
    expect(await changed('tables/lot.json', (entry) => entry.writeUInt32LE(0, offset))).toContain(
      'The pack is damaged: README.txt reaches into',
    )
    expect(await changed('README.txt', (entry) => entry.writeUInt32LE(entry.readUInt32LE(20) + 100_000, 20))).toContain(
      'README.txt reaches into',
    )
    expect(await changed('tables/lot.json', (entry) => entry.writeUInt32LE(0x7fffffff, 24))).toContain('which cannot be')
    expect(await changed('tables/lot.json', (entry) => entry.writeUInt16LE(9, 10))).toContain('is packed in a way that no pack uses')
    expect(await changed('tables/lot.json', (entry) => entry.writeUInt16LE(1, 8))).toContain('is encrypted')
  })

  test('more than the disk has room for', () => {
    expect(() => refuseFullDisk(join(dir, 'not', 'there'), 90 * MB, () => 100 * MB)).toThrow(
      `It needs 122 MB of room, and on the disk of ${dir} there are 100 MB. Nothing was changed. Make room there first.`,
    )
    expect(() => refuseFullDisk(dir, 60 * MB, () => 100 * MB)).not.toThrow()
  })
})

test('a large pack of a house is read back row by row', async () => {
  const insert = stage.db.$client.prepare('INSERT INTO fact (at, kind, subject, body) VALUES (?, ?, ?, ?)')
  const text = JSON.stringify({ told: 'so much was done '.repeat(60) })
  stage.db.$client.transaction(() => {
    for (let n = 0; n < 150_000; n += 1) insert.run(n, 'test.told', `fact ${n}`, text)
  })()
  const large = await packInto(join(dir, 'large.zip'), stage)
  const { words, grown } = await readBack(large, join(dir, 'large'))
  expect(words).toBe('it was taken')
  expect(grown, `grew by ${Math.round(grown / MB)} MB`).toBeLessThan(MOST_GROWTH)
}, 240_000)
