import { asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { tellingReading } from '#db/schema/index'

/** Keys of checks in their order. */
export const tellingOf = (db: Db, designKey: string): string[] =>
  db
    .select({ checkKey: tellingReading.checkKey })
    .from(tellingReading)
    .where(eq(tellingReading.designKey, designKey))
    .orderBy(asc(tellingReading.seq))
    .all()
    .map(({ checkKey }) => checkKey)

export function replaceTelling(db: Db, designKey: string, checkKeys: readonly string[]): void {
  db.delete(tellingReading).where(eq(tellingReading.designKey, designKey)).run()
  for (const [seq, checkKey] of checkKeys.entries()) db.insert(tellingReading).values({ designKey, seq, checkKey }).run()
}
