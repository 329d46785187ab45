import { createHash } from 'node:crypto'
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs'
import { dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import { z } from 'zod'
import { checkDatabase, MANIFEST } from './backup'
import { DATABASE } from './house-files'
import { narrowHouse } from './owner-alone'
import { refuseFullDisk } from './room'
import { refuseOtherKey } from './sealed-by'
import { beginSwap, type SwapWishes, wordsOf } from './swap'

const manifestShape = z.object({
  files: z
    .record(z.string().regex(/^(tagstrip\.db|(keys|photographs)\/[\w-][\w.-]*)$/), z.string().regex(/^[0-9a-f]{64}$/))
    .refine((files) => DATABASE in files),
})

export interface RestoreWishes extends Omit<SwapWishes, 'mayHold' | 'as'> {
  migrationsDir: string
}

/**
 * Puts a copy into `dataDir`. It is copied and checked beside the house that stands there, and takes its place only when it
 * is whole. Answers where the former house is, or null. Throws, in words, at whatever is wrong; the former house stands then.
 */
export function restoreBackup(fromDir: string, dataDir: string, { migrationsDir, ...wishes }: RestoreWishes): string | null {
  const files = filesOf(fromDir)
  const paths = Object.keys(files)
  for (const path of paths) if (!existsSync(join(fromDir, path))) throw new Error(`The copy is not whole: ${path} is missing.`)
  refuseFullDisk(
    dataDir,
    paths.reduce((sum, path) => sum + statSync(join(fromDir, path)).size, 0),
  )
  const swap = beginSwap(dataDir, { ...wishes, as: 'npm run restore', mayHold: fromDir })
  try {
    for (const [path, digest] of Object.entries(files)) {
      const to = join(swap.beside, path)
      mkdirSync(dirname(to), { recursive: true, mode: 0o700 })
      wishes.step?.(`copy ${path}`)
      if (copyFile(join(fromDir, path), to) !== digest) throw new Error(`The copy is damaged: ${path} is not what was written.`)
    }
    const database = join(swap.beside, DATABASE)
    checkDatabase(database)
    refuseLater(database, migrationsDir)
    refuseOtherKey(swap.beside)
    for (const name of [`${DATABASE}-wal`, `${DATABASE}-shm`]) rmSync(join(swap.beside, name), { force: true })
    narrowHouse(swap.beside)
  } catch (reason) {
    swap.abandon()
    if (!(reason instanceof Error && 'code' in reason)) throw reason
    throw new Error(`The copy could not be read into ${dataDir}: ${wordsOf(reason)}. The house there was not touched.`, { cause: reason })
  }
  return swap.commit()
}

function filesOf(fromDir: string): Record<string, string> {
  const file = join(fromDir, MANIFEST)
  if (!existsSync(file)) throw new Error(`${fromDir} is not a copy of a house: it has no ${MANIFEST}.`)
  try {
    return manifestShape.parse(JSON.parse(readFileSync(file, 'utf8'))).files
  } catch (cause) {
    throw new Error(`The copy is damaged: its ${MANIFEST} is not what was written.`, { cause })
  }
}

/** A program knows the steps of the database up to its own. */
function refuseLater(database: string, migrationsDir: string): void {
  const handle = new Database(database, { readonly: true })
  let last: string
  try {
    last = String(handle.prepare('SELECT max(name) FROM migration').pluck().get())
  } finally {
    handle.close()
  }
  const known = readdirSync(migrationsDir)
    .filter((name) => name.endsWith('.sql'))
    .sort()
    .at(-1)
  if (known !== undefined && last > known)
    throw new Error(
      `The copy was made by a later program: this one does not know the step ${last} of the database. Update the program first. Nothing was changed.`,
    )
}

const CHUNK_BYTES = 1024 * 1024

/** Copies a file of any size, synced, and answers the digest of what was copied. */
function copyFile(from: string, to: string): string {
  const sum = createHash('sha256')
  const chunk = Buffer.alloc(CHUNK_BYTES)
  const source = openSync(from, 'r')
  try {
    const target = openSync(to, 'wx', 0o600)
    try {
      for (let size = readSync(source, chunk); size > 0; size = readSync(source, chunk)) {
        const part = chunk.subarray(0, size)
        sum.update(part)
        for (let done = 0; done < size; ) done += writeSync(target, part, done)
      }
      fsyncSync(target)
    } finally {
      closeSync(target)
    }
  } finally {
    closeSync(source)
  }
  return sum.digest('hex')
}
