import { existsSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import * as schema from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import { DATABASE } from '#runtime/disk/house-files'
import { openSealing, SEAL_SECRET, secretFile } from '#runtime/disk/keys'
import { listCopies } from '#runtime/disk/manifest'
import type { Keys, Sight } from '#runtime/queue/turn'
import { type Damage, damageThroughout } from '#sale/bids/whole-look.service'

export interface LookOrder {
  dataDir: string
  publicUrl: string
  now: Instant
  /** The public halves of the keys with which heads may be signed. */
  jwks: ReturnType<Keys['jwks']>
}

export interface LookedThrough {
  damage: Damage[]
  /** Pages and indexes of the file that are not as SQLite wrote them, in its own words. */
  pages: string[]
  /** The newest copy in the data folder in which none of that is damaged; null where there is none, or nothing is damaged. */
  soundCopy: string | null
}

/** More is said of nothing. */
const MOST_PAGES = 20

/**
 * Looks through all that belongs to a history, and through the pages of the file, by a reader of its own. Nothing is changed by it,
 * and no state of the database is held for longer than one lot, or one check of the pages, takes.
 */
export function lookThrough(order: LookOrder): LookedThrough {
  const { damage, pages } = lookThroughFolder(order.dataDir, order)
  const isSound = damage.length + pages.length === 0
  return { damage, pages, soundCopy: isSound ? null : newestSoundCopy(order) }
}

function lookThroughFolder(dir: string, { publicUrl, now, jwks }: LookOrder): Pick<LookedThrough, 'damage' | 'pages'> {
  const keysDir = join(dir, 'keys')
  if (!existsSync(secretFile(keysDir, SEAL_SECRET)))
    return { damage: [{ lot: null, words: `The secret that opens maxima is gone from ${keysDir}.` }], pages: [] }
  const handle = new Database(join(dir, DATABASE), { readonly: true, fileMustExist: true })
  try {
    handle.pragma('cell_size_check = 1')
    const signsNothing = (): never => {
      throw new Error('Whoever looks signs nothing.')
    }
    const keys: Keys = { ...openSealing(keysDir), kid: '', jwks: () => jwks, sign: signsNothing }
    const sight: Sight = { db: drizzle(handle, { schema }), now, publicUrl, keys }
    return { pages: faultsOfPages(handle), damage: damageIn(handle, sight) }
  } finally {
    handle.close()
  }
}

function damageIn(handle: Database.Database, sight: Sight): Damage[] {
  try {
    const found: Damage[] = []
    const lots = damageThroughout(sight)
    for (;;) {
      // What a lot is compared with has to be of the same instant.
      const next = handle.transaction(() => lots.next())()
      if (next.done) return found
      if (next.value) found.push(next.value)
    }
  } catch (reason) {
    return [{ lot: null, words: `The histories cannot be read: ${wordsOf(reason)}` }]
  }
}

function faultsOfPages(handle: Database.Database): string[] {
  try {
    const said = handle.prepare(`PRAGMA integrity_check(${MOST_PAGES})`).pluck().all() as string[]
    const nowhere = handle.pragma('foreign_key_check') as { table: string }[]
    const faults = said.flatMap((words) => (words === 'ok' ? [] : words.split('\n')))
    return [...faults, ...new Set(nowhere.map(({ table }) => `rows of ${table} point nowhere`))].slice(0, MOST_PAGES)
  } catch (reason) {
    return [wordsOf(reason)]
  }
}

function newestSoundCopy(order: LookOrder): string | null {
  const copies = listCopies(join(order.dataDir, 'backups')).reverse()
  const sound = copies.find(({ dir }) => {
    try {
      const { damage, pages } = lookThroughFolder(dir, order)
      return damage.length + pages.length === 0
    } catch {
      // A copy that cannot be read is none to put back.
      return false
    }
  })
  return sound?.dir ?? null
}

const wordsOf = (reason: unknown): string => (reason instanceof Error ? reason.message : String(reason))
