import { and, eq, inArray, isNotNull, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { lot, summedUp } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

/** Lots sold here that have ended and stand in no letter of the day yet. */
export const listNotSummedUp = (db: Db): { id: string; endedAt: Instant | null }[] =>
  db
    .select({ id: lot.id, endedAt: lot.endedAt })
    .from(lot)
    .leftJoin(summedUp, eq(summedUp.lotId, lot.id))
    .where(and(eq(lot.soldWhere, 'here'), isNotNull(lot.endedAt), isNull(summedUp.lotId)))
    .orderBy(lot.number)
    .all()

/** Lots sold here that have not ended, with the closing that they have for now. */
export const listToEnd = (db: Db) =>
  db
    .select({ state: lot.state, closesAt: lot.closesAt })
    .from(lot)
    .where(and(eq(lot.soldWhere, 'here'), inArray(lot.state, ['ready', 'open', 'held'])))
    .all()

export const markSummedUp = (db: Db, lotId: string, at: Instant): void => void db.insert(summedUp).values({ lotId, at }).run()
