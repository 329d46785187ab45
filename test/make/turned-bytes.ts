import { closeSync, copyFileSync, cpSync, existsSync, openSync, readFileSync, readSync, rmSync, statSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { lookThrough } from '#house/open/look-through'
import { MINUTE } from '#kernel/instant'
import type { Chance } from '#kernel/seeded'
import { damageOfLog } from '#runtime/disk/damaged-log'
import { publicKeysIn } from '#runtime/disk/keys'
import { noteAlive } from '#runtime/queue/alive'
import { openStage } from '#test/stage'
import { makeBidder, makeOpenLot } from './lot'

/** Where a byte is turned: in the file of a house that is closed, in the log that a killed one left, or in the log of one that is open. */
export const MEANS = ['the file', 'the log', 'the log of an open house'] as const
export type Means = (typeof MEANS)[number]

/** What belongs to a history, and what of it nothing signed or repeated stands for, by design. */
const TABLES: Readonly<Record<string, readonly string[]>> = {
  ledger_leaf: [],
  ledger_head: [],
  // The key that a form made up: it stands in no entry.
  bid: ['id'],
  alias: [],
  // What a lot was before it opened; its terms hold what was fixed of it. Why it is held, and with which others, is said again when it goes on.
  lot: [
    ...['unit_id', 'title', 'story', 'opening_minor', 'reserve_decided', 'low_minor', 'likely_minor', 'high_minor', 'weight_grams'],
    ...[
      'length_mm',
      'width_mm',
      'height_mm',
      'elsewhere_url',
      'priced_by_person_id',
      'held_reason',
      'held_with_all',
      'ladder',
      'result_source',
    ],
  ],
}

export interface TurnedByte {
  means: Means
  /** Which byte, in words that lead back to it. */
  words: string
  /** Whether a row of a history is another for it, in what is signed or repeated: that has to be found. */
  isAltered: boolean
  /** What the house says of it, and where; null where it says nothing. */
  said: string | null
}

export interface TurnedHouse {
  /** Turns one byte, asks, and turns it back. */
  turn(means: Means): TurnedByte
  close(): void
}

/** A house with a lot that has ended and one that runs, kept open; each byte is turned in a copy of it, or in its own log and back. */
export async function openTurnedHouse(dir: string, chance: Chance): Promise<TurnedHouse> {
  const stage = openStage({ dir: join(dir, 'house') })
  const { number, closesAt } = await makeOpenLot(stage, { form: { reserveKind: 'amount', reserve: '40' } })
  const running = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 300 * MINUTE })
  stage.db.$client.pragma('wal_checkpoint(TRUNCATE)')
  for (const name of ['Ada', 'Ben', 'Cai']) {
    const { bid } = await makeBidder(stage, name)
    for (const lot of [number, running.number]) await bid(lot, String(30 + Math.floor(60 * chance()))).catch(() => {})
  }
  stage.clock.set(closesAt + MINUTE)
  await stage.command(() => {})
  await stage.command((turn) => noteAlive(turn))
  const jwks = { keys: publicKeysIn(join(stage.dir, 'keys')) }
  const whole = rowsIn(stage.dir)
  const below = (count: number) => Math.floor(count * chance())

  const turnIn = (folder: string, means: Means): TurnedByte => {
    const database = join(folder, 'tagstrip.db')
    const file = means === 'the file' ? database : `${database}-wal`
    const anywhere = () => (means === 'the file' ? placeInFile(database, below) : { at: below(statSync(file).size), where: 'the log' })
    // Most bytes of a page belong to no row, so that half the time a row is looked for first.
    const { at, where } = (chance() < 0.5 ? placeOfRow(database, file, below) : null) ?? anywhere()
    const by = 1 + below(255)
    flip(file, at, by)
    try {
      const words = `${where}: byte ${at} of ${file.slice(folder.length + 1)}, turned by ${by}`
      // A house that is open reads its log by what it knows of it; one that opens reads it anew.
      const said = (means === 'the log' ? wordsOfLog(file) : null) ?? look(folder)
      return { means, words, isAltered: rowsIn(folder) !== whole, said }
    } finally {
      flip(file, at, by)
    }
  }
  const look = (dataDir: string): string | null => {
    try {
      const { damage, pages } = lookThrough({ dataDir, publicUrl: 'https://bench.example', now: stage.clock.now(), jwks })
      const said = [...damage.map(({ lot, words }) => `${lot === null ? '' : `Lot ${lot}: `}${words}`), ...pages]
      return said.length === 0 ? null : said.join(' ')
    } catch (reason) {
      return `It does not open: ${String(reason)}`
    }
  }

  return {
    turn(means) {
      if (means === 'the log of an open house') return turnIn(stage.dir, means)
      const copy = join(dir, 'copy')
      rmSync(copy, { recursive: true, force: true })
      cpSync(join(stage.dir, 'keys'), join(copy, 'keys'), { recursive: true })
      for (const name of ['tagstrip.db', 'tagstrip.db-wal']) copyFileSync(join(stage.dir, name), join(copy, name))
      if (means === 'the file') emptyLog(join(copy, 'tagstrip.db'))
      return turnIn(copy, means)
    },
    close: () => stage.close(),
  }
}

/** What the rows of every history say, in what is signed or repeated; what cannot be read says something else. */
function rowsIn(folder: string): string {
  const handle = new Database(join(folder, 'tagstrip.db'), { readonly: true })
  try {
    return JSON.stringify(
      Object.entries(TABLES).map(([table, apart]) => {
        const names = (handle.pragma(`table_info(${table})`) as { name: string }[]).flatMap(({ name }) =>
          apart.includes(name) ? [] : name,
        )
        return handle
          .prepare(`SELECT ${names.join(', ')} FROM ${table} NOT INDEXED ORDER BY 1, 2`)
          .raw()
          .all()
      }),
    )
  } catch (reason) {
    return String(reason)
  } finally {
    handle.close()
  }
}

function emptyLog(database: string): void {
  const handle = new Database(database)
  handle.pragma('wal_checkpoint(TRUNCATE)')
  handle.close()
}

/** A byte of a page that belongs to a history, or to an index of one. */
function placeInFile(database: string, below: (count: number) => number): { at: number; where: string } {
  const handle = new Database(database, { readonly: true })
  try {
    const names = Object.keys(TABLES)
    const table = names[below(names.length)] ?? ''
    const pages = handle
      .prepare('SELECT pgoffset AS at, pgsize AS bytes, name FROM dbstat WHERE name IN (SELECT name FROM sqlite_schema WHERE tbl_name = ?)')
      .all(table) as { at: number; bytes: number; name: string }[]
    const page = pages[below(pages.length)]
    if (!page) throw new Error(`${table} has no page`)
    return { at: page.at + below(page.bytes), where: page.name }
  } finally {
    handle.close()
  }
}

const LONGEST_SOUGHT = 40

/** A byte of what some row says, where the file or the log holds it last; null where it is not found there. */
function placeOfRow(database: string, file: string, below: (count: number) => number): { at: number; where: string } | null {
  const handle = new Database(database, { readonly: true })
  try {
    const tables = Object.entries(TABLES)
    const [table, apart] = tables[below(tables.length)] ?? ['', []]
    const rows = handle.prepare(`SELECT * FROM ${table}`).all() as Record<string, unknown>[]
    const texts = Object.entries(rows[below(rows.length)] ?? {}).filter(
      (cell): cell is [string, string] => typeof cell[1] === 'string' && cell[1].length > 7 && !apart.includes(cell[0]),
    )
    const [column, text] = texts[below(texts.length)] ?? ['', '']
    const begun = below(Math.max(1, text.length - LONGEST_SOUGHT))
    const sought = Buffer.from(text.slice(begun, begun + LONGEST_SOUGHT))
    const at = readFileSync(file).lastIndexOf(sought)
    return at < 0 || sought.length === 0 ? null : { at: at + below(sought.length), where: `${table}.${column}` }
  } finally {
    handle.close()
  }
}

function flip(file: string, at: number, by: number): void {
  if (!existsSync(file)) return
  const open = openSync(file, 'r+')
  try {
    const byte = Buffer.alloc(1)
    readSync(open, byte, 0, 1, at)
    byte.writeUInt8(byte.readUInt8() ^ by)
    writeSync(open, byte, 0, 1, at)
  } finally {
    closeSync(open)
  }
}

function wordsOfLog(file: string): string | null {
  const damage = damageOfLog(file)
  return damage && `The log is damaged at frame ${damage.frame}.`
}
