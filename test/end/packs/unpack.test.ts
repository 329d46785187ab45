import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { PACK_VERSION } from '#end/packs/manifest.contract'
import { unpackHouse } from '#end/packs/unpack-house'
import { openZipReader, type ZipReader } from '#end/packs/zip-reader'
import { openZipWriter } from '#end/packs/zip-writer'
import { makeCampaign } from '#test/make/campaign'
import { MIGRATIONS, packInto } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'

const quiet = () => {}

let stage: Stage
let dir: string
let whole: string
beforeAll(async () => {
  stage = openStage()
  await makeCampaign(stage)
  const { booking } = await stage.as('treasurer')
  await booking.give({ key: 'a friend gives', from: 'Hedda Lunde', amount: '25.10', reference: 'envelope', on: '' })
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-unpack-'))
  whole = await packInto(join(dir, 'whole.zip'), stage)
}, 180_000)
afterAll(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

/** The same pack written again, with a manifest that says something else. */
async function withManifest(name: string, change: Partial<Omit<ZipReader['manifest'], 'version'>> & { version?: number }): Promise<string> {
  const reader = await openZipReader(whole)
  const file = join(dir, name)
  const zip = openZipWriter(file, new Date(stage.clock.now()))
  for (const { path } of reader.manifest.files) await zip.add(path, await reader.read(path))
  const { files: _files, ...manifest } = reader.manifest
  reader.close()
  // Of the version that carries no signature, unless the test says otherwise.
  await zip.finish({ ...manifest, version: 1, ...change } as typeof manifest)
  return file
}

describe('what is not read back: it is refused whole, and in words', () => {
  const refusal = async (file: string, target = join(dir, 'never')): Promise<string> => {
    try {
      await unpackHouse(file, target, MIGRATIONS, quiet)
      return 'it was taken'
    } catch (reason) {
      expect(existsSync(join(dir, 'never'))).toBe(false)
      if (existsSync(target)) expect(readdirSync(target).filter((name) => name.startsWith('incoming-'))).toEqual([])
      return reason instanceof Error ? reason.message : String(reason)
    }
  }

  test('one changed byte anywhere, naming the file that it is in', async () => {
    const bytes = readFileSync(whole)
    const file = join(dir, 'changed.zip')
    const journal = bytes.indexOf('csv/journal.csv') + 'csv/journal.csv'.length + 20
    // Where a file's name stands in the list of contents.
    const named = bytes.lastIndexOf('tables/campaign.json') + 'tables/c'.length
    const places = [
      journal,
      named,
      ...Array.from({ length: 23 }, (_, n) => Math.floor(((n + 0.5) * bytes.length) / 23)),
      bytes.length - 1,
      10,
      40,
    ]
    for (const place of places) {
      const changed = Buffer.from(bytes)
      changed[place] = (changed[place] ?? 0) ^ 1
      writeFileSync(file, changed)
      expect(`${place}: ${await refusal(file)}`).toMatch(/damaged|cannot be read as a ZIP/)
      if (place === named) expect(await refusal(file)).toContain('it holds a file that its manifest does not name')
      if (place === journal) expect(await refusal(file)).toBe('The pack is damaged: csv/journal.csv is not what was written.')
    }
  }, 120_000)

  test('a pack cut short, and what is no pack', async () => {
    const short = join(dir, 'short.zip')
    writeFileSync(short, readFileSync(whole).subarray(0, 5000))
    expect(await refusal(short)).toContain('cannot be read as a ZIP archive')
    const other = openZipWriter(join(dir, 'other.zip'), new Date(0))
    await other.add('hello.txt', 'hello')
    await other.finish({} as Parameters<typeof other.finish>[0])
    expect(await refusal(join(dir, 'other.zip'))).toContain('This archive is not a pack')
    expect(await refusal(join(dir, 'nothing.zip'))).toContain('There is no file')
  })

  test('a later version of the format, and a database of a later program', async () => {
    expect(await refusal(await withManifest('later.zip', { version: PACK_VERSION + 1 }))).toBe(
      'The pack is of version 3 of its format; this program reads up to version 2. Read it with a newer program.',
    )
    expect(await refusal(await withManifest('later-steps.zip', { schema: '9999-what-comes.sql' }))).toContain('Update the program first')
  }, 60_000)

  test('a pack whose rows or totals are not those of its manifest', async () => {
    const { manifest } = await openZipReader(whole)
    const fewer = { ...manifest.rows, entry: (manifest.rows.entry ?? 0) - 1 }
    expect(await refusal(await withManifest('rows.zip', { rows: fewer }))).toContain('tables/entry.json has')
    const richer = { ...manifest.totals, 'proceeds countedMinor': Number(manifest.totals['proceeds countedMinor']) + 1 }
    expect(await refusal(await withManifest('totals.zip', { totals: richer }))).toContain('does not show the same: proceeds countedMinor')
  }, 60_000)

  test('a house that lives there already; one that was only opened once makes way and keeps its key', async () => {
    const target = join(dir, 'lives')
    mkdirSync(target)
    stage.db.$client.prepare('VACUUM INTO ?').run(join(target, 'tagstrip.db'))
    expect(await refusal(whole, target)).toContain('There is a house in')
    const fresh = openStage({ dir: join(dir, 'fresh') })
    const { kid } = fresh.house.keys
    fresh.house.close()
    const { former } = await unpackHouse(whole, fresh.dir, MIGRATIONS, quiet)
    expect(former && readdirSync(former)).toEqual(expect.arrayContaining(['keys', 'photographs', 'tagstrip.db']))
    const again = openStage({ dir: fresh.dir, now: stage.clock.now() })
    expect(again.house.keys.kid).toBe(kid)
    again.close()
  }, 60_000)

  test('a folder that holds anything else, which stays as it was, and one in which a house is open', async () => {
    const target = join(dir, 'mine')
    mkdirSync(target)
    writeFileSync(join(target, 'letters.odt'), 'mine')
    expect(await refusal(whole, target)).toContain(`${target} holds something that is not a house's: letters.odt. Nothing was changed.`)
    expect(readFileSync(join(target, 'letters.odt'), 'utf8')).toBe('mine')
    const open = openStage({ dir: join(dir, 'open') })
    expect(await refusal(whole, open.dir)).toContain(`process ${process.pid} has it, an open house`)
    open.close()
  }, 60_000)
})
