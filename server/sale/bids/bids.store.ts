import { and, asc, desc, eq, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead, plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { bid } from '#db/schema/index'

export type BidRow = typeof bid.$inferSelect

/** Queries of the hot path, built once for each database: building them for every bid halves what it can take. */
const queries = preparedFor((db) => {
  const slot = sql.placeholder
  return {
    bidById: plainRead(
      db,
      ['id'],
      db
        .select()
        .from(bid)
        .where(eq(bid.id, slot('id'))),
    ),
    insertBid: plainWrite<keyof BidRow>(
      db,
      db.insert(bid).values({
        id: slot('id'),
        lotId: slot('lotId'),
        sequence: slot('sequence'),
        personId: slot('personId'),
        alias: slot('alias'),
        maximumMinor: slot('maximumMinor'),
        at: slot('at'),
        nonce: slot('nonce'),
        answer: slot('answer'),
      }),
    ),
  }
})

export const findBid = (db: Db, id: string): BidRow | undefined => queries(db).bidById({ id })[0]
export const insertBid = (db: Db, row: BidRow): void => {
  queries(db).insertBid(row)
}
export const listBidsOfLot = (db: Db, lotId: string): BidRow[] =>
  db.select().from(bid).where(eq(bid.lotId, lotId)).orderBy(asc(bid.sequence)).all()
export const listBidsOfPerson = (db: Db, personId: string): BidRow[] =>
  db.select().from(bid).where(eq(bid.personId, personId)).orderBy(asc(bid.at), asc(bid.sequence)).all()
export const listAllBids = (db: Db): BidRow[] => db.select().from(bid).orderBy(asc(bid.lotId), asc(bid.sequence)).all()

export const lastBidOf = (db: Db, lotId: string, personId: string): BidRow | undefined =>
  db
    .select()
    .from(bid)
    .where(and(eq(bid.lotId, lotId), eq(bid.personId, personId)))
    .orderBy(desc(bid.sequence))
    .limit(1)
    .get()
