import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { fixedPrice } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { FixedPriceEnd } from './fixed-price.contract'

export type FixedPriceRow = typeof fixedPrice.$inferSelect

// Two may have been set at one instant.
const LATEST_FIRST = sql`rowid DESC`

/** The newest first. */
export const listOfLot = (db: Db, lotId: string): FixedPriceRow[] =>
  db.select().from(fixedPrice).where(eq(fixedPrice.lotId, lotId)).orderBy(LATEST_FIRST).all()
export const listAll = (db: Db): FixedPriceRow[] => db.select().from(fixedPrice).orderBy(LATEST_FIRST).all()
export const findStanding = (db: Db, lotId: string): FixedPriceRow | undefined =>
  db
    .select()
    .from(fixedPrice)
    .where(and(eq(fixedPrice.lotId, lotId), isNull(fixedPrice.ended)))
    .get()
export const listStanding = (db: Db): FixedPriceRow[] =>
  db.select().from(fixedPrice).where(isNull(fixedPrice.ended)).orderBy(asc(fixedPrice.openUntil)).all()

export const insert = (db: Db, row: typeof fixedPrice.$inferInsert): void => {
  db.insert(fixedPrice).values(row).run()
}
export const change = (
  db: Db,
  id: string,
  to: Partial<Pick<FixedPriceRow, 'priceMinor' | 'lastDay' | 'openUntil' | 'terms' | 'fellThroughAt'>>,
): void => {
  db.update(fixedPrice).set(to).where(eq(fixedPrice.id, id)).run()
}
export const end = (db: Db, id: string, ended: FixedPriceEnd, endedAt: Instant, entryId: string | null = null): void => {
  db.update(fixedPrice).set({ ended, endedAt, entryId }).where(eq(fixedPrice.id, id)).run()
}
