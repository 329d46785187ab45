import { createHash } from 'node:crypto'
import {
  closeSync,
  copyFileSync,
  cpSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { narrowHouse } from './owner-alone'

const DATABASE = 'tagstrip.db'
const MANIFEST = 'manifest.json'
const FOLDERS = ['photographs', 'keys'] as const

interface Manifest {
  madeAt: string
  files: Record<string, string>
}

/**
 * Copies the whole house into a new folder below `intoDir` and answers its path: the database through
 * SQLite's online API (bids go on meanwhile), photographs and keys as files. Written under a temporary
 * name, checked, synced and only then renamed, so a folder without `.part` is a whole copy.
 */
export async function makeBackup(handle: Database.Database, dataDir: string, intoDir: string, at: number): Promise<string> {
  const name = new Date(at).toISOString().replaceAll(/[:.]/g, '-')
  const part = join(intoDir, `${name}.part`)
  mkdirSync(part, { recursive: true, mode: 0o700 })
  await handle.backup(join(part, DATABASE))
  checkDatabase(join(part, DATABASE))
  for (const folder of FOLDERS)
    if (existsSync(join(dataDir, folder))) cpSync(join(dataDir, folder), join(part, folder), { recursive: true })
  const files = Object.fromEntries(filesOf(part).map((path) => [path, sha256(join(part, path))]))
  const manifest: Manifest = { madeAt: new Date(at).toISOString(), files }
  writeFileSync(join(part, MANIFEST), `${JSON.stringify(manifest, null, 2)}\n`)
  for (const path of filesOf(part)) sync(join(part, path))
  // A file that is copied keeps its mode.
  narrowHouse(part)
  const whole = join(intoDir, name)
  renameSync(part, whole)
  return whole
}

/**
 * Puts a copy back into `dataDir`. Everything is checked first against the copy's own manifest; what
 * stood in `dataDir` is moved aside, never deleted. Answers where it was moved to, or null.
 * Throws, in words, when the copy is not whole.
 */
export function restoreBackup(fromDir: string, dataDir: string, at: number): string | null {
  if (!existsSync(join(fromDir, MANIFEST))) throw new Error(`${fromDir} is not a copy of a house: it has no ${MANIFEST}.`)
  const { files } = JSON.parse(readFileSync(join(fromDir, MANIFEST), 'utf8')) as Manifest
  for (const [path, digest] of Object.entries(files)) {
    const file = join(fromDir, path)
    if (!existsSync(file)) throw new Error(`The copy is not whole: ${path} is missing.`)
    if (sha256(file) !== digest) throw new Error(`The copy is damaged: ${path} is not what was written.`)
  }
  checkDatabase(join(fromDir, DATABASE))
  let aside: string | null = null
  if (existsSync(join(dataDir, DATABASE))) {
    aside = `${dataDir}.before-${new Date(at).toISOString().replaceAll(/[:.]/g, '-')}`
    renameSync(dataDir, aside)
  }
  for (const path of Object.keys(files)) {
    const to = join(dataDir, path)
    mkdirSync(join(to, '..'), { recursive: true, mode: 0o700 })
    copyFileSync(join(fromDir, path), to)
    sync(to)
  }
  narrowHouse(dataDir)
  return aside
}

/** Keeps the newest `most` whole copies below `dir`. */
export function thinBackups(dir: string, most: number): void {
  const whole = readdirSync(dir)
    .filter((name) => /^\d{4}-/.test(name) && !name.endsWith('.part'))
    .sort()
  for (const old of whole.slice(0, Math.max(0, whole.length - most))) rmSync(join(dir, old), { recursive: true })
}

function checkDatabase(file: string): void {
  const copy = new Database(file, { readonly: true })
  try {
    const verdict = copy.pragma('integrity_check', { simple: true })
    if (verdict !== 'ok') throw new Error(`The copy of the database is damaged: ${String(verdict)}`)
    if ((copy.pragma('foreign_key_check') as unknown[]).length > 0)
      throw new Error('The copy of the database is damaged: rows point nowhere.')
  } finally {
    copy.close()
  }
}

const filesOf = (dir: string, below = ''): string[] =>
  readdirSync(join(dir, below))
    .filter((name) => !(below === '' && name === MANIFEST) && !name.endsWith('-wal') && !name.endsWith('-shm'))
    .flatMap((name) => {
      const path = below ? `${below}/${name}` : name
      return statSync(join(dir, path)).isDirectory() ? filesOf(dir, path) : [path]
    })

const sha256 = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex')

function sync(file: string): void {
  const handle = openSync(file, 'r')
  fsyncSync(handle)
  closeSync(handle)
}
