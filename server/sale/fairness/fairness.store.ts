import { asc, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { bidTrace } from '#db/schema/index'

/** Written at a bidder's first bid on each lot, so it is built once for each database. */
const queries = preparedFor((db) => ({
  trace: plainWrite<keyof typeof bidTrace.$inferInsert>(
    db,
    db
      .insert(bidTrace)
      .values({
        personId: sql.placeholder('personId'),
        lotId: sql.placeholder('lotId'),
        kind: sql.placeholder('kind'),
        hash: sql.placeholder('hash'),
        at: sql.placeholder('at'),
      })
      .onConflictDoNothing(),
  ),
}))

/** True when it was not there yet. */
export const insertTrace = (db: Db, row: typeof bidTrace.$inferInsert): boolean => queries(db).trace(row).changes > 0
export const listTraces = (db: Db) => db.select().from(bidTrace).orderBy(asc(bidTrace.at)).all()
export const deleteTraces = (db: Db): void => {
  db.delete(bidTrace).run()
}
export const hasTraces = (db: Db): boolean => db.select({ at: bidTrace.at }).from(bidTrace).limit(1).get() !== undefined
