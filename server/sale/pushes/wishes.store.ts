import { and, eq, inArray } from 'drizzle-orm'
import type { Db } from '#db/open'
import { pushWish } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export const listWishesOf = (db: Db, personId: string): string[] =>
  db
    .select({ of: pushWish.of })
    .from(pushWish)
    .where(eq(pushWish.personId, personId))
    .all()
    .map(({ of }) => of)

export const listWishers = (db: Db, of: readonly string[]) =>
  db
    .select({ personId: pushWish.personId, of: pushWish.of })
    .from(pushWish)
    .where(inArray(pushWish.of, [...of]))
    .all()

export const insertWish = (db: Db, row: { personId: string; of: string; at: Instant }): void =>
  void db.insert(pushWish).values(row).onConflictDoNothing().run()

export const deleteWish = (db: Db, personId: string, of: string): void =>
  void db
    .delete(pushWish)
    .where(and(eq(pushWish.personId, personId), eq(pushWish.of, of)))
    .run()
