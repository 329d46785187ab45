import { and, asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { preparedFor } from '#db/prepared'
import { dayLetter, summedUp } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { LotState } from '../lots/lots.contract'

export interface ToEnd {
  state: LotState
  closesAt: Instant | null
}

/** Asked after every command, by plain statements as those of a bid are. */
const queries = preparedFor((db) => ({
  notSummedUp: db.$client.prepare<[], { id: string; endedAt: Instant }>(
    `SELECT lot.id, lot.ended_at AS endedAt FROM lot LEFT JOIN summed_up ON summed_up.lot_id = lot.id
     WHERE lot.sold_where = 'here' AND lot.ended_at IS NOT NULL AND summed_up.lot_id IS NULL ORDER BY lot.number`,
  ),
  linedUpSince: db.$client.prepare<[], { at: Instant | null }>('SELECT min(at) AS at FROM day_letter'),
  toEnd: db.$client.prepare<[], ToEnd>(
    `SELECT state, closes_at AS closesAt FROM lot WHERE sold_where = 'here' AND state IN ('ready', 'open', 'held')`,
  ),
}))

/** Lots sold here that have ended and stand in no letter of the day yet. */
export const listNotSummedUp = (db: Db): { id: string; endedAt: Instant }[] => queries(db).notSummedUp.all()
/** Lots sold here that have not ended, with the closing that they have for now. */
export const listToEnd = (db: Db): ToEnd[] => queries(db).toEnd.all()
export const markSummedUp = (db: Db, lotId: string, at: Instant): void => void db.insert(summedUp).values({ lotId, at }).run()

export type DayLetterRow = typeof dayLetter.$inferSelect

export const lineUp = (db: Db, row: DayLetterRow): void => void db.insert(dayLetter).values(row).run()
/** Since when letters of the day wait to be written; null while none does. */
export const linedUpSince = (db: Db): Instant | null => queries(db).linedUpSince.get()?.at ?? null
export const listLinedUp = (db: Db, most: number): DayLetterRow[] =>
  db.select().from(dayLetter).orderBy(asc(dayLetter.at), asc(dayLetter.personId)).limit(most).all()
export const letGo = (db: Db, { personId, at }: DayLetterRow): void => {
  db.delete(dayLetter)
    .where(and(eq(dayLetter.personId, personId), eq(dayLetter.at, at)))
    .run()
}
