import { type SQL, sql } from 'drizzle-orm'
import type { Db } from '#db/open'

/** The newest batches in whose words every one of `groups` is found, in any of its forms. */
export function findBatchIds(
  db: Db,
  groups: readonly (readonly string[])[],
  state: 'all' | 'in hand' | 'quarantined',
  most: number,
): string[] {
  const anyOf = (forms: readonly string[]): SQL =>
    sql`(${sql.join(
      forms.map((form) => sql`instr(w.words, ${form}) > 0`),
      sql` OR `,
    )})`
  const isState = state === 'all' ? sql`1` : sql`b.state = ${state === 'quarantined' ? 'quarantined' : 'available'}`
  const found = groups.length === 0 ? sql`1` : sql.join(groups.map(anyOf), sql` AND `)
  return db
    .all<{ id: string }>(
      sql`SELECT b.id FROM batch_words w JOIN batch b ON b.id = w.batch_id WHERE ${found} AND ${isState} ORDER BY w.number DESC LIMIT ${most}`,
    )
    .map(({ id }) => id)
}

/** The batches of pieces whose tags begin so. */
export const batchIdsOfTags = (db: Db, from: string, most: number): string[] =>
  db
    .all<{ id: string }>(sql`SELECT DISTINCT batch_id AS id FROM piece WHERE tag >= ${from} AND tag < ${`${from}\uffff`} LIMIT ${most}`)
    .map(({ id }) => id)
