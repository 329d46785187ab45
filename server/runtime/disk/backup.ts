import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { checkDatabase, copyDatabase, copyDatabaseAtOnce } from './copy-database'
import { copyFile, digestOf, isLinked, syncPath } from './copy-files'
import { DATABASE, stampOf } from './house-files'
import { type Kept, listCopies, MANIFEST, type MadeFor, type Manifest, partOf } from './manifest'
import { narrowHouse } from './owner-alone'
import { refuseFullDisk } from './room'
import { refuseBelowFile, wordsOf } from './swap'
import { sweepParts } from './thin-backups'

const PHOTOGRAPHS = 'photographs'
const KEYS = 'keys'

/** What is to be copied, and why. It is sent to a thread as it is. */
export interface CopyOrder {
  dataDir: string
  /** The folder of copies, in which the new one gets a folder of its own. */
  intoDir: string
  at: number
  madeFor: MadeFor
  /** Added to the name of the folder, for whoever reads it: "before-0045-what-it-does". */
  why?: string
}

export interface CopyMade {
  dir: string
  /** What was written anew; photographs that an earlier copy has already take no room. */
  bytes: number
}

/** Told what is being done and how far it is. */
export type TellCopy = (words: string) => void

/**
 * Copies the whole house into a new folder below `intoDir`: the database as it is at one instant while it is in use, then keys
 * and photographs. It is written under another name, checked, synced and only then renamed, so a folder that does not say
 * `.part` is a whole copy. A photograph that an earlier copy in that folder holds is not copied again: its file there gets a second
 * name, after it was checked. Everything but the pages of the database is done without letting go of the thread.
 */
export async function makeBackup(order: CopyOrder, tell: TellCopy = () => {}): Promise<CopyMade> {
  const { part, finish } = begin(order, tell)
  return orSaid(order, part, async () => {
    await copyDatabase(join(order.dataDir, DATABASE), join(part, DATABASE), (done, of) => tell(progress('the database', done, of)))
    return finish()
  })
}

/** The same where nobody else has the house and nothing else may happen first: before its database is changed. */
export function makeBackupAtOnce(order: CopyOrder): CopyMade {
  const { part, finish } = begin(order, () => {})
  try {
    copyDatabaseAtOnce(join(order.dataDir, DATABASE), join(part, DATABASE))
    return finish()
  } catch (reason) {
    throw undone(order, part, reason)
  }
}

function begin(order: CopyOrder, tell: TellCopy) {
  const { dataDir, intoDir, at, why, madeFor } = order
  if (existsSync(intoDir) && !statSync(intoDir).isDirectory()) throw new Error(`${intoDir} is a file. Name a folder for the copies.`)
  refuseBelowFile(intoDir)
  const earlier = listCopiesIn(intoDir)
  refuseFullDisk(intoDir, roomFor(dataDir, earlier))
  const name = freeName(intoDir, why === undefined ? stampOf(at) : `${stampOf(at)}-${why}`)
  const part = join(intoDir, partOf(name))
  try {
    rmSync(part, { recursive: true, force: true })
    mkdirSync(part, { recursive: true, mode: 0o700 })
    sweepParts(intoDir)
  } catch (cause) {
    throw new Error(`Nothing can be written to ${intoDir}: ${wordsOf(cause)}. Nothing was changed. Name another folder.`, { cause })
  }

  const finish = (): CopyMade => {
    const database = join(part, DATABASE)
    tell('checking the copy of the database')
    checkDatabase(database)
    const files: Manifest['files'] = { [DATABASE]: digestOf(database) }
    let bytes = statSync(database).size
    syncPath(database)
    for (const folder of [KEYS, PHOTOGRAPHS]) {
      const names = filesIn(join(dataDir, folder))
      if (names.length > 0) mkdirSync(join(part, folder), { mode: 0o700 })
      for (const [index, name] of names.entries()) {
        const path = `${folder}/${name}`
        const from = join(dataDir, path)
        if (index > 0 && index % 100 === 0) tell(`${folder}: ${index} of ${names.length}`)
        const kept = unlessGone(from, () => keepFile(from, join(part, path), folder === PHOTOGRAPHS ? earlier : NOTHING_EARLIER))
        if (!kept) continue
        files[path] = kept.digest
        bytes += kept.bytes
      }
      if (names.length > 0) syncPath(join(part, folder))
    }
    const manifest: Manifest = { madeAt: new Date(at).toISOString(), madeFor, files }
    writeFileSync(join(part, MANIFEST), `${JSON.stringify(manifest, null, 2)}\n`, { mode: 0o600, flush: true })
    narrowHouse(part)
    syncPath(part)
    const dir = join(intoDir, name)
    renameSync(part, dir)
    syncPath(intoDir)
    return { dir, bytes }
  }
  return { part, finish }
}

/** What earlier copies in the folder hold, by its digest. */
type Earlier = ReadonlyMap<string, string>
const NOTHING_EARLIER: Earlier = new Map()

const listCopiesIn = (intoDir: string): Earlier =>
  new Map(
    listCopies(intoDir).flatMap(({ dir, files }: Kept) =>
      Object.entries(files)
        .filter(([path]) => path.startsWith(PHOTOGRAPHS))
        .map(([path, digest]) => [digest, join(dir, path)] as const),
    ),
  )

/** A file that an earlier copy holds is looked through there too: what is damaged in it is not handed on. */
function keepFile(from: string, to: string, earlier: Earlier): { digest: string; bytes: number } {
  const digest = earlier.size > 0 ? digestOf(from) : null
  const twin = digest === null ? undefined : earlier.get(digest)
  if (digest !== null && twin !== undefined && existsSync(twin) && digestOf(twin) === digest && isLinked(twin, to))
    return { digest, bytes: 0 }
  return { digest: copyFile(from, to), bytes: statSync(to).size }
}

/** A photograph may be deleted while the copy is made: then nobody wants it in it. */
function unlessGone<T>(file: string, work: () => T): T | null {
  try {
    return work()
  } catch (reason) {
    if (!existsSync(file)) return null
    throw reason
  }
}

/** By name and size: whether an earlier copy is whole is looked at when it is used. */
function roomFor(dataDir: string, earlier: Earlier): number {
  const kept = new Set(
    [...earlier.values()].flatMap((file) => (existsSync(file) ? [`${file.split('/').at(-1)} ${statSync(file).size}`] : [])),
  )
  const sizeOf = (file: string) => (existsSync(file) ? statSync(file).size : 0)
  const ofPhotographs = filesIn(join(dataDir, PHOTOGRAPHS)).reduce((sum, name) => {
    const size = sizeOf(join(dataDir, PHOTOGRAPHS, name))
    return kept.has(`${name} ${size}`) ? sum : sum + size
  }, 0)
  const file = join(dataDir, DATABASE)
  return sizeOf(file) + sizeOf(`${file}-wal`) + ofPhotographs
}

/** Without what is being written, or put in place, at this moment. */
const filesIn = (dir: string): string[] =>
  existsSync(dir)
    ? readdirSync(dir, { withFileTypes: true })
        .filter((entry) => entry.isFile() && !/\.(part|new)$/.test(entry.name))
        .map(({ name }) => name)
        .sort()
    : []

function freeName(dir: string, wanted: string): string {
  let name = wanted
  for (let n = 2; existsSync(join(dir, name)); n += 1) name = `${wanted}-${n}`
  return name
}

async function orSaid<T>(order: CopyOrder, part: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (reason) {
    throw undone(order, part, reason)
  }
}

/** Whatever was wrong, nothing of a copy that is not whole is left. */
function undone({ intoDir }: CopyOrder, part: string, reason: unknown): unknown {
  rmSync(part, { recursive: true, force: true })
  if (!(reason instanceof Error && 'code' in reason)) return reason
  return new Error(`The copy could not be made in ${intoDir}: ${wordsOf(reason)}. The house was not touched.`, { cause: reason })
}

const progress = (what: string, done: number, of: number): string => `${what}: ${megabytes(done)} of ${megabytes(of)} MB`
const megabytes = (bytes: number): number => Math.ceil(bytes / 1024 / 1024)
