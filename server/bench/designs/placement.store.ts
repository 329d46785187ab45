import { asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { placement } from '#db/schema/index'
import type { Placed } from './placement.rules'

export const placementOf = (db: Db, designKey: string): Placed[] =>
  db
    .select()
    .from(placement)
    .where(eq(placement.designKey, designKey))
    .orderBy(asc(placement.designator))
    .all()
    .map(({ designKey: _of, ...placed }) => placed)

export function replacePlacement(db: Db, designKey: string, rows: readonly Placed[]): void {
  db.delete(placement).where(eq(placement.designKey, designKey)).run()
  for (let from = 0; from < rows.length; from += 200)
    db.insert(placement)
      .values(rows.slice(from, from + 200).map((row) => ({ designKey, ...row })))
      .run()
}
