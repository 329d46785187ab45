import { and, asc, desc, eq, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead, plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { alias, bid, closingHold, ledgerHead, ledgerLeaf, reserveSecret, voidRequest } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export type BidRow = typeof bid.$inferSelect
type LeafRow = typeof ledgerLeaf.$inferSelect
type HeadRow = typeof ledgerHead.$inferSelect

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
    alias: plainRead(
      db,
      ['lotId', 'personId'],
      db
        .select()
        .from(alias)
        .where(and(eq(alias.lotId, slot('lotId')), eq(alias.personId, slot('personId')))),
    ),
    insertLeaf: plainWrite<keyof LeafRow>(
      db,
      db.insert(ledgerLeaf).values({ lotId: slot('lotId'), position: slot('position'), body: slot('body') }),
    ),
    insertHead: plainWrite<keyof HeadRow>(
      db,
      db.insert(ledgerHead).values({ lotId: slot('lotId'), size: slot('size'), root: slot('root'), checkpoint: slot('checkpoint') }),
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

export const lastBidOf = (db: Db, lotId: string, personId: string): BidRow | undefined =>
  db
    .select()
    .from(bid)
    .where(and(eq(bid.lotId, lotId), eq(bid.personId, personId)))
    .orderBy(desc(bid.sequence))
    .limit(1)
    .get()

export const findAlias = (db: Db, lotId: string, personId: string) => queries(db).alias({ lotId, personId })[0]
export const listAliases = (db: Db, lotId: string) => db.select().from(alias).where(eq(alias.lotId, lotId)).all()
export const insertAlias = (db: Db, row: { lotId: string; personId: string; alias: string }): void => {
  db.insert(alias).values(row).run()
}
export const voidAlias = (db: Db, lotId: string, name: string, at: Instant): void => {
  db.update(alias)
    .set({ voidedAt: at })
    .where(and(eq(alias.lotId, lotId), eq(alias.alias, name)))
    .run()
}

export const insertLeaf = (db: Db, row: LeafRow): void => {
  queries(db).insertLeaf(row)
}
export const insertHead = (db: Db, row: HeadRow): void => {
  queries(db).insertHead(row)
}
export const listLeaves = (db: Db, lotId: string) =>
  db.select().from(ledgerLeaf).where(eq(ledgerLeaf.lotId, lotId)).orderBy(asc(ledgerLeaf.position)).all()
/** What each entry that moves a standing bid left standing, in every lot, as it stands in the ledger. */
export const listStandings = (db: Db) =>
  db
    .select({
      lotId: ledgerLeaf.lotId,
      at: sql<string>`json_extract(${ledgerLeaf.body}, '$.at')`,
      kind: sql<'bid' | 'voided' | 'closed' | 'withdrawn'>`json_extract(${ledgerLeaf.body}, '$.kind')`,
      standingMinor: sql<number | null>`json_extract(${ledgerLeaf.body}, '$.standingMinor')`,
    })
    .from(ledgerLeaf)
    .where(sql`json_extract(${ledgerLeaf.body}, '$.kind') IN ('bid', 'voided', 'closed', 'withdrawn')`)
    .orderBy(asc(ledgerLeaf.lotId), asc(ledgerLeaf.position))
    .all()
export const listHeads = (db: Db, lotId: string) =>
  db.select().from(ledgerHead).where(eq(ledgerHead.lotId, lotId)).orderBy(asc(ledgerHead.size)).all()

export const insertReserveSecret = (db: Db, row: typeof reserveSecret.$inferInsert): void => {
  db.insert(reserveSecret).values(row).run()
}
export const findReserveSecret = (db: Db, lotId: string) => db.select().from(reserveSecret).where(eq(reserveSecret.lotId, lotId)).get()

export const findVoidRequest = (db: Db, lotId: string, name: string) =>
  db
    .select()
    .from(voidRequest)
    .where(and(eq(voidRequest.lotId, lotId), eq(voidRequest.alias, name)))
    .get()
export const listVoidRequests = (db: Db, lotId: string) => db.select().from(voidRequest).where(eq(voidRequest.lotId, lotId)).all()
export const insertVoidRequest = (db: Db, row: typeof voidRequest.$inferInsert): void => {
  db.insert(voidRequest).values(row).run()
}
export const deleteVoidRequest = (db: Db, lotId: string, name: string): void => {
  db.delete(voidRequest)
    .where(and(eq(voidRequest.lotId, lotId), eq(voidRequest.alias, name)))
    .run()
}

export const findStandingHold = (db: Db) => db.select().from(closingHold).where(isNull(closingHold.until)).get()
export const insertHold = (db: Db, row: { id: string; since: Instant; reason: string; byPersonId: string | null }): void => {
  db.insert(closingHold).values(row).run()
}
export const endHold = (db: Db, id: string, until: Instant, shiftMs: number): void => {
  db.update(closingHold).set({ until, shiftMs }).where(eq(closingHold.id, id)).run()
}
