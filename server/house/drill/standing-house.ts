import { copyFileSync, existsSync, mkdirSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { holdersOf } from '#runtime/disk/hold'
import { DATABASE } from '#runtime/disk/house-files'

/** How far a house had come at an instant. */
export interface Reached {
  /** The number of its newest fact. */
  seq: number
  /** The newest instant that it knows of. */
  at: number
}

export interface Compared {
  /** Facts that the house had when the copy was listed, and the copy has not. */
  lostFacts: number
  lostMs: number
  /** What the two have differently that no house ever changes, in words; none where one is a copy of the other. */
  differences: string[]
}

/** The house that a copy is held against. It is only read. */
export interface StandingHouse {
  reached(): Reached
  compare(copy: string, listed: Reached): Compared
  close(): void
}

/**
 * Opens the database of the house that stands in `dataDir` for reading; null where there is none. While the house is open it is
 * read as it lies there. One that is closed is copied first: to read its log, SQLite would make files beside it.
 */
export function openStandingHouse(dataDir: string, scratch: string): StandingHouse | null {
  const there = join(dataDir, DATABASE)
  if (!existsSync(there)) return null
  // Commands that only read have it as well; a house that is open, or stands by, keeps its database open.
  const isOpen = [...holdersOf(dataDir).values()].some((as) => !as.startsWith('npm run '))
  const handle = new Database(isOpen ? there : copiedInto(scratch, there), { readonly: true })
  return {
    reached: () => reachedIn(handle, 'main'),
    compare(copy, listed) {
      handle.prepare('ATTACH ? AS copy').run(copy)
      try {
        const has = reachedIn(handle, 'copy')
        const lost = handle.prepare('SELECT count(*) FROM main.fact WHERE seq > ? AND seq <= ?').pluck().get(has.seq, listed.seq)
        return { lostFacts: Number(lost), lostMs: Math.max(0, listed.at - has.at), differences: differencesIn(handle, has) }
      } finally {
        handle.exec('DETACH copy')
      }
    },
    close: () => handle.close(),
  }
}

function copiedInto(scratch: string, file: string): string {
  const dir = join(scratch, 'standing')
  mkdirSync(dir)
  for (const end of ['', '-wal']) if (existsSync(`${file}${end}`)) copyFileSync(`${file}${end}`, join(dir, `${DATABASE}${end}`))
  return join(dir, DATABASE)
}

const reachedIn = (handle: Database.Database, name: 'main' | 'copy'): Reached =>
  handle
    .prepare(
      `SELECT (SELECT coalesce(max(seq), 0) FROM ${name}.fact) AS seq,
        (SELECT coalesce(max(at), 0) FROM (SELECT max(at) AS at FROM ${name}.fact UNION ALL SELECT max(at) FROM ${name}.alive)) AS at`,
    )
    .get() as Reached

/** Tables to which rows are only ever added: by which columns one row is known, and which of the others never change. */
const ONLY_ADDED_TO = [
  { table: 'fact', what: 'facts', key: ['seq'], same: ['at', 'kind'] },
  { table: 'ledger_leaf', what: 'entries of histories', key: ['lot_id', 'position'], same: ['body'] },
  { table: 'ledger_head', what: 'signed heads', key: ['lot_id', 'size'], same: ['root', 'checkpoint'] },
  { table: 'entry', what: 'entries of the journal', key: ['seq'], same: ['id', 'at', 'kind'] },
  { table: 'posting', what: 'sums in the journal', key: ['entry_id', 'line'], same: ['account', 'amount_minor'] },
] as const

/** Everything in the copy has to stand in the house in the same way, and no fact may be missing before its newest. */
function differencesIn(handle: Database.Database, { seq }: Reached): string[] {
  const count = (sql: string, ...values: number[]) =>
    Number(
      handle
        .prepare(sql)
        .pluck()
        .get(...values),
    )
  const others = ONLY_ADDED_TO.flatMap(({ table, what, key, same }) => {
    const alike = [...key, ...same].map((column) => `h.${column} = c.${column}`).join(' AND ')
    const n = count(`SELECT count(*) FROM copy.${table} AS c WHERE NOT EXISTS (SELECT 1 FROM main.${table} AS h WHERE ${alike})`)
    return n === 0 ? [] : [`${n} ${what} in the copy are not those of the house`]
  })
  const missing = count('SELECT count(*) FROM main.fact WHERE seq <= ?', seq) - count('SELECT count(*) FROM copy.fact WHERE seq <= ?', seq)
  return missing > 0 ? [...others, `${missing} facts are missing in the middle of the copy`] : others
}
