import { and, asc, desc, eq, gte, inArray, isNull, lt, or, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { gift, giftChange } from '#db/schema/index'
import type { Span } from '#people/campaign/which.service'

export type GiftRow = typeof gift.$inferSelect
export type GiftChangeRow = typeof giftChange.$inferSelect

export const insertGift = (db: Db, row: GiftRow): void => void db.insert(gift).values(row).run()

export const updateGift = (db: Db, id: string, change: Partial<GiftRow>): void =>
  void db.update(gift).set(change).where(eq(gift.id, id)).run()

export const findGiftRow = (db: Db, id: string): GiftRow | undefined => db.select().from(gift).where(eq(gift.id, id)).get()

export const giftRows = (db: Db, ids: readonly string[]): GiftRow[] =>
  db
    .select()
    .from(gift)
    .where(inArray(gift.id, [...ids]))
    .all()

/** Newest first. */
export const allGiftRows = (db: Db): GiftRow[] => db.select().from(gift).orderBy(desc(gift.at), desc(sql`rowid`)).all()

export const giftRowsOf = (db: Db, donorId: string): GiftRow[] =>
  db.select().from(gift).where(eq(gift.donorId, donorId)).orderBy(desc(gift.at), desc(sql`rowid`)).all()

/** Promised or on its way, oldest first. */
export const outstandingGiftRows = (db: Db): GiftRow[] =>
  db
    .select()
    .from(gift)
    .where(inArray(gift.state, ['promised', 'on its way']))
    .orderBy(asc(gift.at), asc(sql`rowid`))
    .all()

export const unapprovedGiftRows = (db: Db): GiftRow[] =>
  db
    .select()
    .from(gift)
    .where(and(eq(gift.approved, false), eq(gift.state, 'promised')))
    .orderBy(asc(gift.at), asc(sql`rowid`))
    .all()

export const giftRowsOfParcels = (db: Db, parcelIds: readonly string[]): GiftRow[] =>
  db
    .select()
    .from(gift)
    .where(inArray(gift.parcelId, [...parcelIds]))
    .orderBy(asc(sql`rowid`))
    .all()

export const insertGiftChange = (db: Db, row: GiftChangeRow): void => void db.insert(giftChange).values(row).run()

export const giftChangeRows = (db: Db, giftIds: readonly string[]): GiftChangeRow[] =>
  db
    .select()
    .from(giftChange)
    .where(inArray(giftChange.giftId, [...giftIds]))
    .orderBy(asc(giftChange.at), asc(sql`rowid`))
    .all()

/** Kept for this unit or for its design. */
export const giftRowsOnlyFor = (db: Db, { unitId, designId }: { unitId: string; designId: string }): GiftRow[] =>
  db
    .select()
    .from(gift)
    .where(or(eq(gift.onlyForUnitId, unitId), eq(gift.onlyForDesignId, designId)))
    .all()

/** The donors of gifts in these states that came in this time, each once. */
export const donorIdsOf = (db: Db, { from, to }: Span, states: readonly GiftRow['state'][], kinds?: readonly GiftRow['kind'][]): string[] =>
  db
    .selectDistinct({ donorId: gift.donorId })
    .from(gift)
    .where(
      and(
        inArray(gift.state, [...states]),
        gte(gift.at, from),
        lt(gift.at, to),
        kinds && and(inArray(gift.kind, [...kinds]), isNull(gift.onlyForUnitId), isNull(gift.onlyForDesignId)),
      ),
    )
    .all()
    .map(({ donorId }) => donorId)

/** The history of one line goes on in another. */
export const moveGiftChanges = (db: Db, fromId: string, toId: string): void => {
  db.update(giftChange).set({ giftId: toId }).where(eq(giftChange.giftId, fromId)).run()
  db.update(gift).set({ splitFromId: toId }).where(eq(gift.splitFromId, fromId)).run()
}

export const deleteGift = (db: Db, id: string): void => void db.delete(gift).where(eq(gift.id, id)).run()
