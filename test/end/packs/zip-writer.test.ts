import { mkdtempSync, rmSync, unlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setImmediate } from 'node:timers/promises'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { bodyOfFile, openZipWriter } from '#end/packs/zip-writer'

let dir: string
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-zip-'))
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

// An error that nobody hears fails the whole run, so these tests fail in more than their own lines.
describe('a file that goes into a pack', () => {
  test('is opened when its turn comes: one that was deleted meanwhile fails the pack in words', async () => {
    const file = join(dir, 'a.webp')
    writeFileSync(file, 'a picture')
    const zip = openZipWriter(join(dir, 'pack.zip'), new Date(0))
    const body = bodyOfFile(file)
    unlinkSync(file)
    // Whoever opened it at once would hear of it now, while nobody listens.
    for (let turns = 0; turns < 20; turns += 1) await setImmediate()
    await expect(zip.add('photographs/a.webp', body)).rejects.toThrow(`${file} is gone: it was deleted while the pack was made.`)
  })

  test('that cannot be read fails the pack, and the writer lets go of it', async () => {
    const zip = openZipWriter(join(dir, 'pack.zip'), new Date(0))
    await zip.add('before.txt', 'before')
    await expect(zip.add('photographs/a.webp', bodyOfFile(dir))).rejects.toThrow('EISDIR')
    await setImmediate()
  })

  test('is refused when it fails in the middle', async () => {
    const zip = openZipWriter(join(dir, 'pack.zip'), new Date(0))
    const half = async function* () {
      yield new Uint8Array(200_000)
      throw new Error('the disk cannot be read')
    }
    await expect(zip.add('photographs/a.webp', half())).rejects.toThrow('the disk cannot be read')
  })
})
