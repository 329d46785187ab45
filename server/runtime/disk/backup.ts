import { createHash } from 'node:crypto'
import {
  closeSync,
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
import { DATABASE, stampOf } from './house-files'
import { narrowHouse } from './owner-alone'

/** What a copy says of itself. */
export const MANIFEST = 'manifest.json'
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
  const name = stampOf(at)
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

const WHOLE = /^(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)-(\d{3})Z/

/** When the newest whole copy in a data folder was made; null where there is none. */
export function newestBackup(dataDir: string): number | null {
  const dir = join(dataDir, 'backups')
  const made = !existsSync(dir)
    ? []
    : readdirSync(dir).flatMap((name) => {
        const parts = name.endsWith('.part') ? null : WHOLE.exec(name)
        return parts ? [Date.parse(`${parts[1]}T${parts[2]}:${parts[3]}:${parts[4]}.${parts[5]}Z`)] : []
      })
  return made.length === 0 ? null : Math.max(...made)
}

/** Keeps the newest `most` whole copies below `dir`. */
export function thinBackups(dir: string, most: number): void {
  const whole = readdirSync(dir)
    .filter((name) => /^\d{4}-/.test(name) && !name.endsWith('.part'))
    .sort()
  for (const old of whole.slice(0, Math.max(0, whole.length - most))) rmSync(join(dir, old), { recursive: true })
}

export function checkDatabase(file: string): void {
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
