import { asc, eq, inArray } from 'drizzle-orm'
import type { Db } from '#db/open'
import { dayWish } from '#db/schema/index'

export type WishKept = typeof dayWish.$inferSelect

export const listWishes = (db: Db): WishKept[] => db.select().from(dayWish).orderBy(asc(dayWish.madeAt), asc(dayWish.id)).all()

export function insertWish(db: Db, row: WishKept): void {
  db.insert(dayWish).values(row).run()
}

export const deleteWish = (db: Db, id: string): number => db.delete(dayWish).where(eq(dayWish.id, id)).run().changes

export const deleteWishesOf = (db: Db, lotIds: readonly string[]): void =>
  void db
    .delete(dayWish)
    .where(inArray(dayWish.lotId, [...lotIds]))
    .run()
