import { randomBytes } from 'node:crypto'
import { copyFileSync, existsSync, linkSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { Instant } from '#kernel/instant'
import { earlierKeysFile, openSealing, publicKeysIn } from '#runtime/disk/keys'
import { ofReserve, sealFigure } from '#sale/lots/sealed-figures'
import { type CopiedRow, KEPT, rehearsedRow, type SealReserve } from './kept-tables.rules'

/**
 * Copies a house for a rehearsal, while the house goes on: of its database the tables and rows that a rehearsal is given and
 * nothing else, so that nothing sealed lies in the copy even for a moment. Of its keys only the public halves come along, so
 * that what it signed verifies and nothing can be signed in its name; the rehearsal makes its own.
 */
export async function copyForRehearsal(dataDir: string, into: string, now: Instant): Promise<void> {
  const file = join(dataDir, 'tagstrip.db')
  if (!existsSync(file)) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
  mkdirSync(into, { recursive: true, mode: 0o700 })
  const keys = join(into, 'keys')
  mkdirSync(keys, { recursive: true, mode: 0o700 })
  const sealing = openSealing(keys)
  const sealReserve: SealReserve = (lot, amount) => sealFigure(sealing, ofReserve(lot), amount, randomBytes(32).toString('hex'))
  const house = new Database(file, { readonly: true, fileMustExist: true })
  const copy = new Database(join(into, 'tagstrip.db'))
  // Rows come table by table, whichever refers to which; within a transaction this could not be set.
  copy.pragma('foreign_keys = OFF')
  try {
    // One transaction on either side: the house as it is in one instant.
    house.transaction(() => copy.transaction(() => copyRows({ house, copy, now, sealReserve }))())()
  } finally {
    copy.close()
    house.close()
  }
  writeFileSync(earlierKeysFile(keys), `${JSON.stringify({ keys: publicKeysIn(join(dataDir, 'keys')) })}\n`)
  const photographs = join(dataDir, 'photographs')
  mkdirSync(join(into, 'photographs'), { recursive: true })
  if (existsSync(photographs))
    for (const name of readdirSync(photographs)) linkOrCopy(join(photographs, name), join(into, 'photographs', name))
}

function copyRows(copying: Copying): void {
  const { house, copy } = copying
  const parts = house
    .prepare(
      "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' AND name NOT GLOB '_litestream_*'",
    )
    .all() as {
    type: string
    name: string
    sql: string
  }[]
  const tables = parts.filter(({ type }) => type === 'table')
  for (const { sql } of tables) copy.exec(sql)
  for (const { name } of tables) if (KEPT.includes(name)) copyTable(copying, name)
  // Triggers act on what happens in the rehearsal, not on what was copied.
  for (const { type, sql } of parts) if (type !== 'table') copy.exec(sql)
  // A history does not run backwards, so the copy knows the last instant that anything happened at, and no more of it.
  const last = house.prepare('SELECT max(at) FROM fact').pluck().get() as number | null
  const note = copy.prepare("INSERT INTO fact (at, kind, subject, body) VALUES (?, 'rehearsal.copied', 'rehearsal', '{}')")
  if (last !== null) note.run(last)
}

interface Copying {
  house: Database.Database
  copy: Database.Database
  now: Instant
  sealReserve: SealReserve
}

/** Names come from the list of what is kept. */
function copyTable({ house, copy, now, sealReserve }: Copying, table: string): void {
  const all = house.prepare(`SELECT * FROM "${table}"`)
  const names = all.columns().map(({ name }) => name)
  const places = names.map(() => '?').join(', ')
  const insert = copy.prepare(`INSERT INTO "${table}" (${names.map((name) => `"${name}"`).join(', ')}) VALUES (${places})`)
  for (const row of all.iterate() as IterableIterator<CopiedRow>) {
    const rehearsed = rehearsedRow(table, row, now, sealReserve)
    if (rehearsed) insert.run(names.map((name) => rehearsed[name]))
  }
}

/** Photographs are named by what is in them and never written again, so that two folders may share them. */
function linkOrCopy(from: string, to: string): void {
  try {
    linkSync(from, to)
  } catch {
    copyFileSync(from, to)
  }
}

/** When a rehearsal begins: five minutes before the stream opens, or now where that has passed. Null when no closing is still to come. */
export function beginsAt(dir: string, now: Instant): Instant | null {
  const handle = new Database(join(dir, 'tagstrip.db'), { readonly: true })
  try {
    const opens = handle.prepare('SELECT stream_opens_at FROM campaign').pluck().get() as number | undefined
    if (opens === undefined) return null
    // Never before what the copy knows of: a history does not run backwards.
    const known = (handle.prepare('SELECT max(at) FROM fact').pluck().get() as number | null) ?? 0
    const begins = Math.max(now, known, opens - 5 * 60_000)
    const coming = handle
      .prepare("SELECT count(*) FROM lot WHERE closes_at > ? AND state IN ('draft', 'ready')")
      .pluck()
      .get(begins) as number
    return coming > 0 ? begins : null
  } finally {
    handle.close()
  }
}
