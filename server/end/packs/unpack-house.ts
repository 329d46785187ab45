import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { openDatabase } from '#db/open'
import { invariant } from '#kernel/invariant'
import { withoutAtEnd } from '#kernel/text'
import { earlierKeysFile, openKeys } from '#runtime/disk/keys'
import type { Keys, Sight } from '#runtime/queue/turn'
import { sealedRows } from '#sale/lots/sealed-rows'
import { sealingSteps } from '#sale/lots/sealing-steps'
import type { Manifest, PackedRow } from './manifest.contract'
import { columnsOf, countRows, insertRows, listTables, withoutTriggers } from './tables.store'
import { differing, readTotals } from './totals.service'
import { checkSeal, openZipReader, type ZipReader } from './zip-reader'

/**
 * Reads a pack back into an empty installation, whole or not at all: everything is checked and built beside `dataDir` and takes
 * its place only when the same totals came out. Throws, in words, at whatever is wrong.
 */
export async function unpackHouse(file: string, dataDir: string, migrationsDir: string, say: (words: string) => void): Promise<Manifest> {
  refuseFull(dataDir)
  if (!existsSync(file)) throw new Error(`There is no file ${file}.`)
  const beside = `${withoutAtEnd(dataDir, '/')}.unpacking`
  rmSync(beside, { recursive: true, force: true })
  const reader = await openZipReader(file)
  try {
    const { manifest } = reader
    refuseUnreadable(manifest, migrationsDir)
    for (const { path } of manifest.files) await reader.read(path)
    await checkSeal(file)
    say(`${manifest.files.length} files are what was written.`)
    mkdirSync(join(beside, 'keys'), { recursive: true, mode: 0o700 })
    await layFiles(reader, beside)
    // Before anything is sealed, so that it is sealed by the key that the house will have.
    keepOwnKeys(dataDir, beside)
    await fillDatabase(reader, join(beside, 'tagstrip.db'), migrationsDir, say)
    rmSync(dataDir, { recursive: true, force: true })
    renameSync(beside, dataDir)
    return manifest
  } finally {
    reader.close()
    rmSync(beside, { recursive: true, force: true })
  }
}

/** Refuses a folder in which there is a house with anything in it. One that was only opened once has no campaign and no people yet. */
function refuseFull(dataDir: string): void {
  const file = join(dataDir, 'tagstrip.db')
  if (!existsSync(file)) return
  const house = new Database(file, { readonly: true })
  try {
    const isEmpty = ['campaign', 'person', 'design', 'donor'].every((table) => countRows(house, table) === 0)
    if (!isEmpty)
      throw new Error(`There is a house in ${dataDir} already. A pack is read into an empty installation: set DATA_DIR to a new folder.`)
  } finally {
    house.close()
  }
}

function refuseUnreadable(manifest: Manifest, migrationsDir: string): void {
  if (!manifest.isWhole) {
    const sealed = manifest.leftOut.find((words) => words.startsWith('sealed')) ?? 'something was left out of it'
    throw new Error(`The pack cannot be read back: ${sealed}. Make another one when all lots have ended.`)
  }
  if (!existsSync(join(migrationsDir, manifest.schema)))
    throw new Error(
      `The pack was made by a later program: this one does not know the step ${manifest.schema} of the database. Update the program first.`,
    )
}

async function layFiles(reader: ZipReader, beside: string): Promise<void> {
  mkdirSync(join(beside, 'photographs'), { recursive: true })
  for (const { path } of reader.manifest.files) {
    const name = /^photographs\/([0-9a-f]{64}-\d+\.webp)$/.exec(path)?.[1]
    if (name !== undefined) writeFileSync(join(beside, 'photographs', name), await reader.read(path))
  }
  writeFileSync(earlierKeysFile(join(beside, 'keys')), await reader.read('keys/public-keys.json'))
}

/** Makes the tables as they were when the pack was made, fills and checks them, migrates them to this program, and compares the totals. */
async function fillDatabase(reader: ZipReader, file: string, migrationsDir: string, say: (words: string) => void): Promise<void> {
  const { manifest } = reader
  const then = stepsUntil(migrationsDir, manifest.schema)
  const keys = openKeys(join(file, '..', 'keys'))
  const { handle } = openDatabase(file, then, sealingSteps(keys))
  rmSync(then, { recursive: true })
  handle.pragma('foreign_keys = OFF')
  const known = new Set(listTables(handle))
  const bodies = new Map<string, PackedRow[]>()
  for (const table of Object.keys(manifest.rows)) {
    if (!known.has(table)) throw new Error(`The pack holds a table that its own step of the database does not have: ${table}.`)
    bodies.set(table, rowsIn(await reader.read(`tables/${table}.json`), table))
  }
  const numbers = new Map(bodies.get('lot')?.map(({ id, number }) => [id, Number(number)]))
  const sealing = sealedRows(keys, (lotId) => {
    const number = numbers.get(lotId)
    if (number === undefined) throw new Error('The pack is damaged: rows of its tables point nowhere.')
    return number
  })
  handle
    .transaction(() =>
      withoutTriggers(handle, () => {
        for (const [table, rows] of bodies) {
          handle.exec(`DELETE FROM "${table}"`)
          const columns = columnsOf(handle, table)
          const count = insertRows(
            handle,
            table,
            columns,
            rows.map((row) => sealing.sealed(table, row, columns)),
          )
          if (count !== manifest.rows[table])
            throw new Error(`tables/${table}.json has ${count} rows, the manifest says ${manifest.rows[table]}.`)
        }
        // Letters that waited are not sent from here, since the other house may have sent them meanwhile.
        handle.exec(
          `UPDATE letter SET next_try_at = 253402300799000, last_error = 'It waited when the pack was made. It is not sent from here.' WHERE sent_at IS NULL`,
        )
      }),
    )
    .immediate()
  if ((handle.pragma('foreign_key_check') as unknown[]).length > 0)
    throw new Error('The pack is damaged: rows of its tables point nowhere.')
  handle.close()
  say(`${[...bodies.values()].reduce((sum, rows) => sum + rows.length, 0)} rows stand in ${bodies.size} tables again.`)
  compareTotals(manifest, file, migrationsDir, keys)
  say('Every view shows the same totals as before.')
}

function compareTotals(manifest: Manifest, file: string, migrationsDir: string, keys: Keys): void {
  const { db, handle } = openDatabase(file, migrationsDir, sealingSteps(keys))
  try {
    const sight: Sight = { db, now: Date.parse(manifest.madeAt), publicUrl: manifest.publicUrl, keys }
    const other = differing(manifest.totals, readTotals(sight))
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

function rowsIn(bytes: Buffer, table: string): PackedRow[] {
  const rows: unknown = JSON.parse(bytes.toString('utf8'))
  invariant(Array.isArray(rows), `tables/${table}.json is a list`)
  return rows as PackedRow[]
}

/** A house that was opened once has keys already. They are kept for signing; the earlier house's public keys verify what it signed. */
function keepOwnKeys(dataDir: string, beside: string): void {
  const own = join(dataDir, 'keys')
  if (!existsSync(own)) return
  for (const name of readdirSync(join(beside, 'keys'))) if (!name.endsWith('.json')) rmSync(join(beside, 'keys', name))
  for (const name of readdirSync(own)) cpSync(join(own, name), join(beside, 'keys', name))
}
