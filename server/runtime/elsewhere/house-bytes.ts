import { readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { DATABASE } from '../disk/house-files'

/** How much room a house takes: its database, with the log in front of it, and its photographs. */
export function openHouseBytes(dataDir: string): () => Promise<number> {
  // A photograph is never changed, so each is looked at once.
  const photographs = new Map<string, number>()
  const sizeOf = (file: string) =>
    stat(file).then(
      ({ size }) => size,
      () => 0,
    )
  return async () => {
    const folder = join(dataDir, 'photographs')
    const names = new Set(await readdir(folder).catch(() => []))
    for (const name of photographs.keys()) if (!names.has(name)) photographs.delete(name)
    for (const name of names) if (!photographs.has(name)) photographs.set(name, await sizeOf(join(folder, name)))
    const database = await Promise.all([DATABASE, `${DATABASE}-wal`].map((name) => sizeOf(join(dataDir, name))))
    return [...database, ...photographs.values()].reduce((sum, size) => sum + size, 0)
  }
}
