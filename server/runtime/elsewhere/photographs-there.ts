import { createHash } from 'node:crypto'
import { createReadStream, existsSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { isKeptFile } from '../disk/house-files'
import type { Place } from './place'

/** Below this folder of a copy lie photographs and recordings, each named by the digest of its file and by the name that it has in the house. */
export const PHOTOGRAPHS_FOLDER = 'photographs'

/** The digest of the file, and its name in the house. */
const NAME = /^([\da-f]{64})\.(.{1,80})$/

/** As many as are sent before anything else is looked at. */
const AT_ONCE = 24

export interface PhotographsThere {
  /** Copies what is not there yet, each once, and takes away what no row names any more. */
  bring(place: Place): Promise<void>
  /** What was there has gone: it is looked at again. */
  forget(): void
}

/** Photographs are never changed, so what is there by its name is there. */
export function openPhotographsThere(dir: string, isNamed: (sha: string) => boolean): PhotographsThere {
  let there: Map<string, string> | null = null
  return {
    forget() {
      there = null
    },
    async bring(place) {
      there ??= new Map((await place.list(PHOTOGRAPHS_FOLDER)).flatMap((path) => nameIn(path).map((name) => [name, path] as const)))
      const known = there
      const here = new Set(existsSync(dir) ? (await readdir(dir)).filter(isKeptFile) : [])
      const missing = [...here].filter((name) => !known.has(name)).slice(0, AT_ONCE)
      const errands: { name: string; from: string; path: string }[] = []
      for (const name of missing) {
        const from = join(dir, name)
        errands.push({ name, from, path: `${await digestOf(from)}.${name}` })
      }
      await place.put(errands.map(({ from, path }) => ({ from, to: `${PHOTOGRAPHS_FOLDER}/${path}` })))
      for (const { name, path } of errands) known.set(name, path)
      // A file that was lost here is not lost there: only what the house itself has forgotten goes.
      const gone = [...known].filter(([name]) => !here.has(name) && !isNamed(name.slice(0, 64)))
      await place.remove(gone.map(([, path]) => `${PHOTOGRAPHS_FOLDER}/${path}`))
      for (const [name] of gone) known.delete(name)
    },
  }
}

/** Brings all of them here, and answers how many. Throws where one is not what was put there. */
export async function fetchPhotographs(place: Place, into: string): Promise<number> {
  const paths = (await place.list(PHOTOGRAPHS_FOLDER)).filter((path) => nameIn(path).length > 0)
  await place.fetch(paths.map((path) => ({ from: `${PHOTOGRAPHS_FOLDER}/${path}`, to: join(into, nameIn(path)[0] ?? '') })))
  for (const path of paths) {
    const [name = ''] = nameIn(path)
    if (`${await digestOf(join(into, name))}.${name}` !== path)
      throw new Error(`The copy is damaged: its photograph ${name} is not what was written.`)
  }
  return paths.length
}

const nameIn = (path: string): string[] => (NAME.exec(path)?.slice(2, 3) ?? []).filter(isKeptFile)

async function digestOf(file: string): Promise<string> {
  const sum = createHash('sha256')
  for await (const part of createReadStream(file)) sum.update(part)
  return sum.digest('hex')
}
