import { and, asc, desc, eq, getTableColumns, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead, plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { bid, lot } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export type StoredBid = typeof bid.$inferSelect

/** With the number of its lot, to which its maximum is bound. */
export interface FoundBid extends StoredBid {
  lot: number
}

const found = { ...getTableColumns(bid), lot: lot.number }

/** Queries of the hot path, built once for each database: building them for every bid halves what it can take. */
const queries = preparedFor((db) => {
  const slot = sql.placeholder
  return {
    bidById: plainRead(
      db,
      ['id'],
      db
        .select(found)
        .from(bid)
        .innerJoin(lot, eq(lot.id, bid.lotId))
        .where(eq(bid.id, slot('id'))),
    ),
    // By the index of a person's bids on a lot, which holds them in the order in which they came.
    lastArrivals: plainRead(
      db,
      ['personId', 'lotId', 'most'],
      db
        .select({ at: bid.at })
        .from(bid)
        .where(and(eq(bid.personId, slot('personId')), eq(bid.lotId, slot('lotId'))))
        .orderBy(desc(sql`rowid`))
        .limit(slot('most')),
    ),
    insertBid: plainWrite<keyof StoredBid>(
      db,
      db.insert(bid).values({
        id: slot('id'),
        lotId: slot('lotId'),
        sequence: slot('sequence'),
        personId: slot('personId'),
        alias: slot('alias'),
        sealed: slot('sealed'),
        at: slot('at'),
        answer: slot('answer'),
      }),
    ),
  }
})

export const findBid = (db: Db, id: string): FoundBid | undefined => queries(db).bidById({ id })[0]
export const insertBid = (db: Db, row: StoredBid): void => {
  queries(db).insertBid(row)
}
/** When the last bids of this person on this lot arrived, so many at most, in the order in which they came. */
export const lastArrivals = (db: Db, lotId: string, personId: string, most: number): Instant[] =>
  queries(db)
    .lastArrivals({ lotId, personId, most })
    .map(({ at }) => at)
    .reverse()

const selectBids = (db: Db) => db.select(found).from(bid).innerJoin(lot, eq(lot.id, bid.lotId))

export const listBidsOfLot = (db: Db, lotId: string): FoundBid[] =>
  selectBids(db).where(eq(bid.lotId, lotId)).orderBy(asc(bid.sequence)).all()
export const listBidsOfPerson = (db: Db, personId: string): FoundBid[] =>
  selectBids(db).where(eq(bid.personId, personId)).orderBy(asc(bid.at), asc(bid.sequence)).all()
export const listAllBids = (db: Db): FoundBid[] => selectBids(db).orderBy(asc(bid.lotId), asc(bid.sequence)).all()
export const bidAt = (db: Db, lotId: string, sequence: number): FoundBid | undefined =>
  selectBids(db)
    .where(and(eq(bid.lotId, lotId), eq(bid.sequence, sequence)))
    .get()

export const lastBidOf = (db: Db, lotId: string, personId: string): FoundBid | undefined =>
  selectBids(db)
    .where(and(eq(bid.lotId, lotId), eq(bid.personId, personId)))
    .orderBy(desc(bid.sequence))
    .limit(1)
    .get()
