import { createReadStream, createWriteStream } from 'node:fs'
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { wordsOf } from '../disk/swap'
import type { Errand, Place } from './place'

/** A folder on a disk of this machine, or of another one that is mounted here. */
export function openFolderPlace(dir: string): Place {
  const copy = async ({ from, to }: Errand) => {
    await mkdir(dirname(to), { recursive: true, mode: 0o700 })
    await pipeline(createReadStream(from), createWriteStream(`${to}.part`, { mode: 0o600, flush: true }))
    await rename(`${to}.part`, to)
  }
  return {
    list: (below) => inWords(dir, () => listFiles(join(dir, below))),
    read: (path) => inWords(dir, () => readFile(join(dir, path)).catch(nullIfMissing)),
    write: (path, bytes) =>
      inWords(dir, async () => {
        await writeFile(join(dir, `${path}.part`), bytes, { mode: 0o600, flush: true })
        await rename(join(dir, `${path}.part`), join(dir, path))
      }),
    put: (errands) =>
      inWords(dir, async () => {
        // Where a disk is not mounted its folder may be missing; one that is made in its place would hide that.
        await stat(dir)
        for (const { from, to } of errands) await copy({ from, to: join(dir, to) })
      }),
    fetch: (errands) =>
      inWords(dir, async () => {
        for (const { from, to } of errands) await copy({ from: join(dir, from), to })
      }),
    remove: (paths) =>
      inWords(dir, async () => {
        for (const path of paths) await rm(join(dir, path), { force: true })
      }),
    close: async () => {},
  }
}

/** Paths of all files below a folder, relative to it. */
export async function listFiles(dir: string): Promise<string[]> {
  const entries = await readdir(dir, { recursive: true, withFileTypes: true }).catch(nullIfMissing)
  return (entries ?? []).filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name).slice(dir.length + 1))
}

function nullIfMissing(reason: unknown): null {
  if (reason instanceof Error && 'code' in reason && (reason.code === 'ENOENT' || reason.code === 'ENOTDIR')) return null
  throw reason
}

async function inWords<T>(dir: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? cause.code : ''
    const words =
      code === 'ENOENT' || code === 'ENOTDIR' ? `the folder ${dir} is not there. Mount its disk, or make the folder` : wordsOf(cause)
    throw new Error(words, { cause })
  }
}
