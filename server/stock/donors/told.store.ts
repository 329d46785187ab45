import { inArray } from 'drizzle-orm'
import type { Db } from '#db/open'
import { thanksTold } from '#db/schema/index'

export type ToldRow = typeof thanksTold.$inferSelect

export const toldRows = (db: Db, lotIds: readonly string[]): ToldRow[] =>
  db
    .select()
    .from(thanksTold)
    .where(inArray(thanksTold.lotId, [...lotIds]))
    .all()

const insertTold = (db: Db, row: ToldRow): void => void db.insert(thanksTold).values(row).onConflictDoNothing().run()

export function keepTold(db: Db, row: ToldRow): void {
  db.insert(thanksTold)
    .values(row)
    .onConflictDoUpdate({ target: [thanksTold.giftId, thanksTold.lotId], set: row })
    .run()
}

/** What was told of one gift line was told of the line that takes its place. */
export function moveTold(db: Db, fromGiftId: string, toGiftId: string): void {
  const rows = db
    .select()
    .from(thanksTold)
    .where(inArray(thanksTold.giftId, [fromGiftId]))
    .all()
  db.delete(thanksTold)
    .where(inArray(thanksTold.giftId, [fromGiftId]))
    .run()
  for (const row of rows) insertTold(db, { ...row, giftId: toGiftId })
}
