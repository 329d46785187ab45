import { createHash } from 'node:crypto'
import { createReadStream, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { checkDatabase } from '../disk/copy-database'
import { DATABASE } from '../disk/house-files'
import { firstKeyIn } from '../disk/keys'
import { MANIFEST } from '../disk/manifest'
import { refuseFullDisk } from '../disk/room'
import type { CopyMeans } from '../settings/copy-settings'
import { type CopyTo, copyToWords } from '../settings/copy-to.rules'
import { type Chain, chainOf, DATABASE_FOLDER, firstGap, isLitestreams } from './chain.rules'
import { findLitestream, readBack } from './litestream'
import { lz4Length } from './lz4-length.rules'
import { MARK_FILE, type Mark, readMark } from './mark.rules'
import { openPlace } from './open-place'
import { fetchPhotographs, PHOTOGRAPHS_FOLDER } from './photographs-there'
import type { Place } from './place'
import { KEYS_FILE, openKeysInto } from './sealed-keys'

export interface FetchedCopy {
  /** The name of the first key of the house that it is a copy of. */
  house: string
  /** The newest instant that it knows of. */
  newestAt: number
  /** Which program wrote it, and the last step of its database. */
  program: string
  lastMigration: string
  photographs: number
}

/** What is being fetched. When what lies there has been listed, nothing that comes later can be in it. */
export type FetchStep = 'keys' | 'database' | 'listed' | 'photographs' | 'check'

/** As a multiple of what the house takes. */
const ROOM_FOR = 2

export interface FetchWishes {
  from: CopyTo
  passphrase: string
  /** A new folder: after it, it is a whole copy such as `npm run backup` makes. Where anything is wrong it is not there. */
  into: string
  settings: CopyMeans
  /** Refuses one of another house than this. */
  house?: string | null
  /** Told as each begins; where something newer is fetched instead, the database begins again. */
  tell?: (step: FetchStep) => void
  /** How much room there is on the disk of a folder. */
  free?: (dir: string) => number
}

/** Fetches the newest of what is kept elsewhere: keys, database, photographs. Throws, in words, at whatever is wrong with it. */
export async function fetchCopy({
  from,
  passphrase,
  into,
  settings,
  house = null,
  tell = () => {},
  free,
}: FetchWishes): Promise<FetchedCopy> {
  const program = findLitestream(settings.litestream)
  if (existsSync(into)) throw new Error(`${into} is there already. Name a new folder.`)
  mkdirSync(into, { recursive: true, mode: 0o700 })
  const place = openPlace(from, settings)
  try {
    const mark = await markAt(place, from)
    if (house !== null && mark.house !== house)
      throw new Error(
        `${copyToWords(from)} is a copy of another house than the one that stands here: its first key is ${mark.house}, and here it is ${house}. Nothing was changed. Set DATA_DIR to a new folder for it, or name the right copy.`,
      )
    // What was sent, packed, lies beside what is put together of it.
    if (mark.bytes !== undefined) refuseFullDisk(into, mark.bytes * ROOM_FOR, free)
    tell('keys')
    const sealed = await place.read(KEYS_FILE)
    if (sealed === null) throw new Error(`The copy is not whole yet: ${KEYS_FILE} is missing. Nothing was changed.`)
    await openKeysInto(join(into, 'keys'), sealed, passphrase)
    if (firstKeyIn(join(into, 'keys')) !== mark.house)
      throw new Error(`The copy is damaged: its keys are not those of the house that ${MARK_FILE} names.`)
    await fetchDatabase({ place, mark, program, into, tell })
    tell('photographs')
    const photographs = await fetchPhotographs(place, join(into, PHOTOGRAPHS_FOLDER))
    tell('check')
    checkDatabase(join(into, DATABASE))
    await writeManifest(into)
    return {
      house: mark.house,
      newestAt: newestIn(join(into, DATABASE)),
      program: mark.program,
      lastMigration: mark.lastMigration,
      photographs,
    }
  } catch (reason) {
    rmSync(into, { recursive: true, force: true })
    throw reason
  } finally {
    await place.close()
  }
}

async function markAt(place: Place, from: CopyTo): Promise<Mark> {
  let bytes: Buffer | null
  try {
    bytes = await place.read(MARK_FILE)
  } catch (cause) {
    throw new Error(`${copyToWords(from)} cannot be read: ${cause instanceof Error ? cause.message : String(cause)}.`, { cause })
  }
  if (bytes === null)
    throw new Error(`${copyToWords(from)} holds no copy of a house: ${MARK_FILE} is not there. Name the place that COPY_TO named.`)
  return readMark(bytes)
}

/** A house that is open meanwhile may take away what has grown old; then there is something newer, which is fetched instead. */
const TRIES = 3

interface DatabaseWishes {
  place: Place
  mark: Mark
  program: string
  into: string
  tell: (step: FetchStep) => void
}

async function fetchDatabase(wishes: DatabaseWishes): Promise<void> {
  const { place, program, into, tell } = wishes
  const scratch = join(into, DATABASE_FOLDER)
  let mark = wishes.mark
  for (let tries = 1; ; tries += 1) {
    tell('database')
    const paths = (await place.list(DATABASE_FOLDER)).filter(isLitestreams)
    tell('listed')
    try {
      const chain = chainTo(mark, paths)
      const wanted = [chain.snapshot, ...chain.segments.map(({ path }) => path)]
      await place.fetch(wanted.map((path) => ({ from: `${DATABASE_FOLDER}/${path}`, to: join(scratch, path) })))
      refuseGap(chain, scratch, mark)
      await readBack(program, { from: scratch, generation: chain.generation, into: join(into, DATABASE) })
      break
    } catch (reason) {
      rmSync(scratch, { recursive: true, force: true })
      const bytes = await place.read(MARK_FILE)
      const now = bytes === null ? mark : readMark(bytes)
      if (tries === TRIES || now.beat === mark.beat) throw reason
      mark = now
    }
  }
  rmSync(scratch, { recursive: true, force: true })
}

function chainTo(mark: Mark, paths: readonly string[]): Chain {
  if (mark.generation === null)
    throw new Error('The copy is not whole yet: its first database is still being written. Nothing was changed. Try again in a minute.')
  const chain = chainOf(paths, mark.generation)
  if (chain === null)
    throw new Error('The copy is damaged: the database that it names is not there. Nothing was changed. Use another copy or a backup.')
  // What had arrived when the mark was written is there, or was taken away since with a newer snapshot in its place.
  const end = chain.segments.at(-1)?.path ?? ''
  if (mark.last !== null && end < mark.last) throw new Error(cutShort(mark))
  return chain
}

/** Litestream would leave out, without a word, whatever comes after a part that is missing. */
function refuseGap(chain: Chain, folder: string, mark: Mark): void {
  const gap = firstGap(chain.segments, ({ path }) => {
    try {
      return lz4Length(readFileSync(join(folder, path)))
    } catch (cause) {
      throw new Error(`The copy is damaged: ${path} is cut short. ${OTHERWISE}`, { cause })
    }
  })
  if (gap !== null) throw new Error(cutShort(mark))
}

const OTHERWISE = 'Nothing was changed. Use another copy or a backup.'
const cutShort = (mark: Mark): string =>
  `The copy is cut short: parts of its database are missing that were there at ${mark.goodUntil ?? 'some time'}. ${OTHERWISE}`

function newestIn(database: string): number {
  const handle = new Database(database, { readonly: true })
  try {
    return Number(
      handle.prepare('SELECT max(at) FROM (SELECT max(at) AS at FROM fact UNION ALL SELECT max(at) FROM alive)').pluck().get() ?? 0,
    )
  } finally {
    handle.close()
  }
}

/** As a backup has one, so that it can be put back in the same way. */
async function writeManifest(into: string): Promise<void> {
  const paths = [DATABASE, ...['keys', PHOTOGRAPHS_FOLDER].flatMap((folder) => namesIn(into, folder))]
  const files: Record<string, string> = {}
  for (const path of paths) {
    const sum = createHash('sha256')
    for await (const part of createReadStream(join(into, path))) sum.update(part)
    files[path] = sum.digest('hex')
  }
  writeFileSync(join(into, MANIFEST), `${JSON.stringify({ madeAt: new Date().toISOString(), files }, null, 2)}\n`, {
    mode: 0o600,
    flush: true,
  })
}

const namesIn = (into: string, folder: string): string[] =>
  existsSync(join(into, folder)) ? readdirSync(join(into, folder)).map((name) => `${folder}/${name}`) : []
