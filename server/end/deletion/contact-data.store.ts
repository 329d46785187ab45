import { sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { among, type ContactStep, contactSteps, DELETED, type Going, NEVER_CHANGED } from './contact-data.rules'

// Contact data stands in the tables of many rooms. Only here are they all written to, so that everything is deleted in one turn.

const textsOf = (db: Db, query: string): string[] =>
  db.all<{ text: string | null }>(sql.raw(query)).flatMap(({ text }) => (text === null || text === '' ? [] : [text]))

export const tablesOf = (db: Db): Set<string> =>
  new Set(
    textsOf(
      db,
      "SELECT name AS text FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT GLOB '_litestream_*'",
    ),
  )

/** The steps whose table exists in this database, which may be of an earlier program. */
export function stepsOf(db: Db, going: Going): ContactStep[] {
  const tables = tablesOf(db)
  return contactSteps(going).filter(({ table }) => tables.has(table))
}

export const countStep = (db: Db, { table, where }: ContactStep): number =>
  db.get<{ n: number }>(sql.raw(`SELECT count(*) AS n FROM ${table} WHERE ${where}`)).n

/** Answers how many rows it changed. */
export const doStep = (db: Db, { change }: ContactStep): number => db.run(sql.raw(change)).changes

/** From now on, what is deleted is overwritten with noughts in the file, and not only marked as free. */
export const overwriteDeleted = (db: Db): void => void db.get(sql.raw('PRAGMA secure_delete = ON'))

/** Every address that would be deleted, as it is written: mail, streets, telephones. Those of the staff are not among them. */
export function knownAddresses(db: Db, { bidders, donors, lots }: Going): string[] {
  const tables = tablesOf(db)
  return [
    ...textsOf(
      db,
      `SELECT email AS text FROM person WHERE role = 'bidder' AND email NOT LIKE '%@forgotten.invalid' AND ${among('id', bidders)}`,
    ),
    ...textsOf(db, `SELECT contact AS text FROM donor WHERE ${among('id', donors)}`),
    ...(tables.has('delivery_address')
      ? textsOf(
          db,
          `SELECT street AS text FROM delivery_address WHERE ${among('lot_id', lots)}
            UNION ALL SELECT telephone FROM delivery_address WHERE ${among('lot_id', lots)}`,
        )
      : []),
  ]
}

export interface PersonGoing {
  id: string
  name: string
  mail: string
  /** The name stays with the books. */
  bought: boolean
}

export const biddersGoing = (db: Db, { bidders }: Going): PersonGoing[] =>
  db
    .all<{ id: string; name: string; mail: string; bought: number }>(
      sql.raw(`SELECT id, name, email AS mail, EXISTS (SELECT 1 FROM entry WHERE entry.person_id = person.id) AS bought
        FROM person WHERE role = 'bidder' AND email NOT LIKE '%@forgotten.invalid' AND ${among('id', bidders)} ORDER BY name, id`),
    )
    .map((row) => ({ ...row, bought: row.bought === 1 }))

/** Photographs of parcels, of packed boxes and of what buyers reported, without those that are shown somewhere else as well. */
export function photographsGoing(db: Db, { lots, until }: Going): string[] {
  const packing = tablesOf(db).has('packing_photograph') ? ` UNION SELECT sha FROM packing_photograph WHERE ${among('lot_id', lots)}` : ''
  const reported = tablesOf(db).has('problem_note')
    ? ` UNION SELECT photo_sha FROM problem_note WHERE photo_sha IS NOT NULL AND problem_id IN (SELECT id FROM problem WHERE ${among('lot_id', lots)})`
    : ''
  const boards = tablesOf(db).has('board_photograph') ? ' UNION SELECT photo_sha FROM board_photograph' : ''
  const evidence = tablesOf(db).has('evidence') ? ' UNION SELECT sha FROM evidence' : ''
  return textsOf(
    db,
    `SELECT sha AS text FROM (SELECT photo_sha AS sha FROM parcel WHERE photo_sha IS NOT NULL AND arrived_at < ${until}${packing}${reported}) WHERE sha NOT IN (
      SELECT sha FROM lot_photograph UNION SELECT photo_sha FROM reading WHERE photo_sha IS NOT NULL${evidence}${boards}
      UNION SELECT photo_sha FROM inspection WHERE photo_sha IS NOT NULL UNION SELECT photo_sha FROM batch_test WHERE photo_sha IS NOT NULL)`,
  )
}

export const dropPhotographs = (db: Db, shas: readonly string[]): void => {
  for (const sha of shas) db.run(sql`DELETE FROM photograph WHERE sha = ${sha}`)
}

/** In a copy alone: invoices without the address of their buyer, and without their sheets, which show it. */
export function blankInvoiceAddresses(copy: Db): void {
  if (!tablesOf(copy).has('invoice_document')) return
  for (const name of ['invoice_document_is_never_changed', 'invoice_paper_is_never_removed']) copy.run(sql.raw(`DROP TRIGGER ${name}`))
  copy.run(sql.raw(`UPDATE invoice_document SET content = json_set(content, '$.buyer.address', '')`))
  copy.run(sql.raw('DELETE FROM invoice_paper'))
}

export interface Found {
  table: string
  column: string
  rowid: number
  text: string
}

/** Every cell of text in the database that holds something wanted. */
export function* findTexts(db: Db, wanted: RegExp): Generator<Found> {
  for (const table of tablesOf(db)) {
    const columns = textsOf(db, `SELECT name AS text FROM pragma_table_info('${table}') WHERE type = 'TEXT'`)
    for (const column of columns) {
      const cells = db.all<{ rowid: number; text: string }>(
        sql.raw(`SELECT rowid AS rowid, "${column}" AS text FROM "${table}" WHERE "${column}" IS NOT NULL AND length("${column}") >= 5`),
      )
      for (const { rowid, text } of cells) {
        wanted.lastIndex = 0
        if (wanted.test(text)) yield { table, column, rowid, text }
      }
    }
  }
}

/** Puts the word for deleted text in the place of what was found. False for tables that are never changed. */
export function writeOver(db: Db, { table, column, rowid, text }: Found, wanted: RegExp): boolean {
  if (NEVER_CHANGED.includes(table)) return false
  db.run(sql`UPDATE ${sql.raw(`"${table}"`)} SET ${sql.raw(`"${column}"`)} = ${text.replaceAll(wanted, DELETED)} WHERE rowid = ${rowid}`)
  return true
}
