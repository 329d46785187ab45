import { asc, eq, inArray, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { bidTrace, lot } from '#db/schema/index'

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
/** Traces of bids on lots of one campaign. */
const ofCampaign = (db: Db, campaign: number) =>
  inArray(bidTrace.lotId, db.select({ id: lot.id }).from(lot).where(eq(lot.campaignNumber, campaign)))
export const deleteTraces = (db: Db, campaign: number): void => {
  db.delete(bidTrace).where(ofCampaign(db, campaign)).run()
}
export const hasTraces = (db: Db, campaign: number): boolean =>
  db.select({ at: bidTrace.at }).from(bidTrace).where(ofCampaign(db, campaign)).limit(1).get() !== undefined
