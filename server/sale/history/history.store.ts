import { and, asc, desc, eq, gt, isNotNull, or, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { alias, bid, ledgerHead, ledgerLeaf, lot } from '#db/schema/index'

type LeafRow = typeof ledgerLeaf.$inferSelect
type HeadRow = typeof ledgerHead.$inferSelect

/** Written at every bid, so they are built once for each database. */
const queries = preparedFor((db) => {
  const slot = sql.placeholder
  return {
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

export const insertLeaf = (db: Db, row: LeafRow): void => {
  queries(db).insertLeaf(row)
}
export const insertHead = (db: Db, row: HeadRow): void => {
  queries(db).insertHead(row)
}
export const listLeaves = (db: Db, lotId: string) =>
  db.select().from(ledgerLeaf).where(eq(ledgerLeaf.lotId, lotId)).orderBy(asc(ledgerLeaf.position)).all()
export const listHeads = (db: Db, lotId: string) =>
  db.select().from(ledgerHead).where(eq(ledgerHead.lotId, lotId)).orderBy(asc(ledgerHead.size)).all()

/** Lots that anything of a history names, and those that say that they have one. */
export function lotIdsWithHistory(db: Db): string[] {
  const named = [ledgerLeaf, ledgerHead, bid, alias].flatMap((table) => db.selectDistinct({ id: table.lotId }).from(table).all())
  const own = db
    .select({ id: lot.id })
    .from(lot)
    .where(and(eq(lot.soldWhere, 'here'), or(gt(lot.ledgerSize, 0), isNotNull(lot.openedAt))))
    .all()
  return [...new Set([...own, ...named].map(({ id }) => id))]
}

export const lastCheckpoint = (db: Db, lotId: string): string | undefined =>
  db
    .select({ checkpoint: ledgerHead.checkpoint })
    .from(ledgerHead)
    .where(eq(ledgerHead.lotId, lotId))
    .orderBy(desc(ledgerHead.size))
    .limit(1)
    .get()?.checkpoint

/** What each entry that moves a standing bid left standing, in every lot, as it stands in the ledger. */
export const listStandingBids = (db: Db) =>
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
