import { join } from 'node:path'
import { packHouse } from '#end/packs/pack-house'
import { openZipReader } from '#end/packs/zip-reader'
import { PACK_MEANS } from '#house/open/pack-means'
import type { Stage } from '#test/stage'

export const MIGRATIONS = join(import.meta.dirname, '..', '..', 'db', 'migrations')

type Tell = Parameters<typeof packHouse>[2]

/** A pack of a stage's house, made on the thread of the test, into this file. */
export async function packInto(file: string, stage: Stage, withContacts = true, means = PACK_MEANS, tell?: Tell): Promise<string> {
  const { kid, jwks } = stage.house.keys
  const reader = await stage.actor('maker')
  const question = { dataDir: stage.dir, migrationsDir: MIGRATIONS, file, at: stage.clock.now(), publicUrl: 'https://bench.example' }
  await packHouse({ ...question, jwks: jwks(), kid, reader, withContacts }, means, tell)
  return file
}

/** Every file of a pack by its path. */
export async function filesOf(pack: string): Promise<Map<string, Buffer>> {
  const reader = await openZipReader(pack)
  const read = new Map<string, Buffer>()
  for (const { path } of reader.manifest.files) read.set(path, await reader.read(path))
  reader.close()
  return read
}
