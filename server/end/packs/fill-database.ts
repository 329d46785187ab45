import { cpSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import { openDatabase } from '#db/open'
import type { Keys, Sight } from '#runtime/queue/turn'
import { sealedRows } from '#sale/lots/sealed-rows'
import { sealingSteps } from '#sale/lots/sealing-steps'
import type { Manifest, PackedRow } from './manifest.contract'
import { rowsOfTable } from './table-rows'
import { columnsOf, dropTriggers, inserterOf, listTables, lotNumbers } from './tables.store'
import { differing, differingSums, readTotals } from './totals.service'
import type { ZipReader } from './zip-reader'

interface Filling {
  reader: ZipReader
  /** The database, which is not there yet. */
  file: string
  keys: Keys
  migrationsDir: string
  say(words: string): void
}

/**
 * Makes the tables as they were when the pack was made, fills and checks them, migrates them to this program, and compares the
 * totals. Rows come one at a time, so however long a table is, no more of it is in memory than a row.
 */
export async function fillDatabase({ reader, file, keys, migrationsDir, say }: Filling): Promise<void> {
  const { manifest } = reader
  const then = stepsUntil(migrationsDir, manifest.schema)
  const { handle } = openDatabase(file, then, sealingSteps(keys))
  try {
    rmSync(then, { recursive: true })
    const count = await fillTables(handle, reader, keys)
    say(`${count} rows stand in ${Object.keys(manifest.rows).length} tables again.`)
  } finally {
    handle.close()
  }
  compareTotals(manifest, file, migrationsDir, keys)
  say('Every view shows the same totals as before.')
}

async function fillTables(handle: Database.Database, reader: ZipReader, keys: Keys): Promise<number> {
  const { manifest } = reader
  handle.pragma('foreign_keys = OFF')
  const known = new Set(listTables(handle))
  const unknown = Object.keys(manifest.rows).find((table) => !known.has(table))
  if (unknown !== undefined) throw new Error(`The pack holds a table that its own step of the database does not have: ${unknown}.`)
  handle.exec('BEGIN IMMEDIATE')
  const restoreTriggers = dropTriggers(handle)
  let all = 0
  // Lots come first: figures of other tables are sealed with the numbers of theirs.
  for (const [table, rows] of Object.entries(manifest.rows).sort(([one], [other]) => Number(other === 'lot') - Number(one === 'lot'))) {
    const path = `tables/${table}.json`
    const count = await fillTable(handle, table, rowsOfTable(path, reader.stream(path)), keys)
    if (count !== rows) throw new Error(`${path} has ${count} rows, the manifest says ${rows}.`)
    all += count
  }
  // Letters that waited are not sent from here, since the other house may have sent them meanwhile.
  handle.exec(
    `UPDATE letter SET next_try_at = 253402300799000, last_error = 'It waited when the pack was made. It is not sent from here.' WHERE sent_at IS NULL`,
  )
  restoreTriggers()
  handle.exec('COMMIT')
  if (handle.prepare('SELECT 1 FROM pragma_foreign_key_check LIMIT 1').get() !== undefined) throw pointsNowhere()
  return all
}

async function fillTable(handle: Database.Database, table: string, rows: AsyncIterable<PackedRow>, keys: Keys): Promise<number> {
  handle.exec(`DELETE FROM "${table}"`)
  const columns = columnsOf(handle, table)
  const insert = inserterOf(handle, table, columns)
  const numberOf = table === 'lot' ? noNumbers : lotNumbers(handle)
  const sealing = sealedRows(keys, (lotId) => {
    try {
      return numberOf(lotId)
    } catch (cause) {
      throw pointsNowhere(cause)
    }
  })
  let count = 0
  for await (const packed of rows) {
    count += 1
    const row = sealing.sealed(table, packed, columns)
    const strange = Object.keys(row).find((name) => !columns.includes(name)) ?? columns.find((name) => !(name in row))
    if (strange !== undefined)
      throw new Error(`The pack is damaged: row ${count} of tables/${table}.json has not the columns of its table, such as ${strange}.`)
    try {
      insert(row)
    } catch (cause) {
      // What the disk refuses is no fault of the pack.
      if (!(cause instanceof Error && 'code' in cause && String(cause.code).startsWith('SQLITE_CONSTRAINT'))) throw cause
      throw new Error(`The pack is damaged: row ${count} of tables/${table}.json does not fit its table (${cause.message}).`, { cause })
    }
  }
  return count
}

const noNumbers = (lotId: string | number | null): number => {
  throw new Error(`There is no lot ${lotId}.`)
}

const pointsNowhere = (cause?: unknown) => new Error('The pack is damaged: rows of its tables point nowhere.', { cause })

function compareTotals(manifest: Manifest, file: string, migrationsDir: string, keys: Keys): void {
  const { db, handle } = openDatabase(file, migrationsDir, sealingSteps(keys))
  try {
    const sight: Sight = { db, now: Date.parse(manifest.madeAt), publicUrl: manifest.publicUrl, keys }
    const newest = readdirSync(migrationsDir)
      .filter((name) => name.endsWith('.sql'))
      .sort()
      .at(-1)
    const other = (manifest.schema === newest ? differing : differingSums)(manifest.totals, readTotals(sight))
    if (other.length > 0) throw new Error(`What was read back does not show the same: ${other.slice(0, 5).join(', ')}. Nothing was kept.`)
    handle.pragma('wal_checkpoint(TRUNCATE)')
  } finally {
    handle.close()
  }
}

/** Copies the migrations up to the pack's own into a folder of their own, and answers that folder. */
function stepsUntil(migrationsDir: string, last: string): string {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-steps-'))
  for (const name of readdirSync(migrationsDir).filter((one) => one.endsWith('.sql') && one <= last))
    cpSync(join(migrationsDir, name), join(dir, name))
  return dir
}
