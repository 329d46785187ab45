import { readdirSync, readFileSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { openDatabase } from '#db/open'
import { toIso } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { findCampaign } from '#people/campaign/campaign.service'
import { openSealing, openSigner } from '#runtime/disk/keys'
import { wordsOf } from '#runtime/disk/swap'
import type { Actor, Keys, Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { sealedLots } from '#sale/lots/sealed.rules'
import { FIGURES } from '#sale/lots/sealed-figures'
import { sealingSteps } from '#sale/lots/sealing-steps'
import { type PackMeans, type PackSource, packContents } from './contents.service'
import { type Manifest, PACK_FORMAT, PACK_VERSION } from './manifest.contract'
import { signPack } from './pack-signature'
import type { PackMade, PackNews } from './packs.contract'
import { chooseTables } from './tables.rules'
import { countRows, lastMigration, listTables } from './tables.store'
import { readTotals } from './totals.service'
import { openZipWriter } from './zip-writer'

export interface PackQuestion {
  dataDir: string
  migrationsDir: string
  /** Where the pack goes. Until it is whole, its name ends in `.part`. */
  file: string
  at: number
  publicUrl: string
  jwks: ReturnType<Keys['jwks']>
  kid: string
  reader: Actor
  withContacts: boolean
}

/**
 * Makes one pack of a house, which may be open and at work meanwhile: the pack is made from a copy that is taken in one instant.
 * Where contact data is to stay out, it is deleted from that copy by the same rules as in the house itself.
 */
export async function packHouse(question: PackQuestion, means: PackMeans, tell: (news: PackNews) => void = () => {}): Promise<PackMade> {
  const { dataDir, migrationsDir, file, withContacts } = question
  const copy = `${file}.copy`
  const part = `${file}.part`
  const scratch = [copy, `${copy}-wal`, `${copy}-shm`]
  try {
    takeAway([...scratch, part])
    takeCopy(join(dataDir, 'tagstrip.db'), copy)
    const keys = keysOf(question)
    const { db, handle } = openDatabase(copy, migrationsDir, sealingSteps(keys))
    let made: PackMade
    try {
      const without = withContacts ? new Set<string>() : means.deleteContacts(db)
      const sight: Sight = { db, now: question.at, publicUrl: question.publicUrl, keys }
      made = await writePack(question, { sight, handle, without, means }, part, tell)
    } finally {
      handle.close()
    }
    takeAway(scratch)
    // Last of all: a pack that stands there was made, and nothing else of the house lies beside it.
    renameSync(part, file)
    return made
  } catch (reason) {
    try {
      takeAway([part, ...scratch])
    } catch (left) {
      if (wordsOf(left) !== wordsOf(reason)) throw new Error(`${wordsOf(reason)}. ${wordsOf(left)}`, { cause: reason })
    }
    throw reason
  }
}

/** A copy of the house holds everything, contact data too: where it cannot be taken away, that is said. */
function takeAway(files: readonly string[]): void {
  const left = files.flatMap((file) => {
    try {
      rmSync(file, { force: true })
      return []
    } catch (cause) {
      return [{ file, cause }]
    }
  })
  for (const { file, cause } of left)
    throw new Error(`${file} could not be taken away (${wordsOf(cause)}). It holds what a pack is made from: delete it.`, { cause })
}

interface Copied {
  sight: Sight
  handle: Database.Database
  /** Photographs that are contact data themselves, and stay out with it. */
  without: ReadonlySet<string>
  means: PackMeans
}

async function writePack(question: PackQuestion, { sight, handle, without, means }: Copied, part: string, tell: (news: PackNews) => void) {
  const { dataDir, migrationsDir, at, publicUrl, withContacts, reader } = question
  const openLots = sealedLots(listLots(sight))
  const { tables, leftOut } = chooseTables(listTables(handle), openLots)
  if (!withContacts)
    leftOut.push(
      'contact data of bidders and donors: email addresses, addresses for sending, letters, photographs of parcels. Those of the staff stay in tables/person.json: they sign in with them where the pack is read back',
    )
  const isWhole = openLots.length === 0
  const source: PackSource = {
    sight,
    handle,
    means,
    tables,
    isSealed: !isWhole,
    reader,
    dataDir,
    schema: schemaText(migrationsDir),
    leftOut,
  }
  const contents = packContents(source).filter(({ path }) => !without.has(/^photographs\/([0-9a-f]{64})-/.exec(path)?.[1] ?? ''))
  const zip = openZipWriter(part, new Date(at))
  for (const [done, { path, body }] of contents.entries()) {
    tell({ done, of: contents.length, at: path })
    const made = await body()
    if (made !== null) await zip.add(path, made)
  }
  const manifest: Omit<Manifest, 'files'> = {
    format: PACK_FORMAT,
    version: PACK_VERSION,
    madeAt: toIso(at),
    publicUrl,
    campaign: findCampaign(sight)?.name ?? '',
    schema: lastMigration(handle),
    withContacts,
    isWhole,
    leftOut,
    rows: Object.fromEntries(tables.map((table) => [table, countRows(handle, table)])),
    totals: readTotals(sight),
  }
  const signer = openSigner(join(dataDir, 'keys'), question.kid)
  const sealed = await zip.finish(manifest, (digest) => signPack(digest, signer))
  tell({ done: contents.length, of: contents.length, at: '' })
  return { ...sealed, files: zip.files.length, isWhole, withContacts, leftOut, lastEntry: countRows(handle, 'entry') }
}

/** Copies the database as it is in one instant: `VACUUM INTO` reads in one transaction, and bids go on meanwhile. */
function takeCopy(from: string, to: string): void {
  const house = new Database(from, { readonly: true })
  try {
    house.prepare('VACUUM INTO ?').run(to)
  } finally {
    house.close()
  }
}

/** Enough to read with. What is packed is signed by nobody, and no code can be made: it opens maxima and reserves, and nothing else. */
function keysOf({ dataDir, jwks, kid }: PackQuestion): Keys {
  const { seal } = openSealing(join(dataDir, 'keys'))
  return {
    kid,
    jwks: () => jwks,
    sign: () => {
      invariant(false, 'what is packed is signed by nobody')
      return new Uint8Array()
    },
    seal: (words) => (words === FIGURES ? seal(words) : new Uint8Array(32)),
  }
}

const schemaText = (dir: string): string =>
  readdirSync(dir)
    .filter((name) => name.endsWith('.sql'))
    .sort()
    .map((name) => `-- ${name}\n${readFileSync(join(dir, name), 'utf8')}`)
    .join('\n')
