import { and, asc, eq, inArray } from 'drizzle-orm'
import type { Db } from '#db/open'
import { lot, voidRequest } from '#db/schema/index'

export const findVoidRequest = (db: Db, lotId: string, name: string) =>
  db
    .select()
    .from(voidRequest)
    .where(and(eq(voidRequest.lotId, lotId), eq(voidRequest.alias, name)))
    .get()
export const listVoidRequests = (db: Db, lotId: string) => db.select().from(voidRequest).where(eq(voidRequest.lotId, lotId)).all()
export const listLotsWithVoidRequests = (db: Db): number[] =>
  db
    .selectDistinct({ number: lot.number })
    .from(voidRequest)
    .innerJoin(lot, eq(lot.id, voidRequest.lotId))
    .where(inArray(lot.state, ['open', 'held']))
    .orderBy(asc(lot.number))
    .all()
    .map(({ number }) => number)
export const insertVoidRequest = (db: Db, row: typeof voidRequest.$inferInsert): void => {
  db.insert(voidRequest).values(row).run()
}
export const deleteVoidRequest = (db: Db, lotId: string, name: string): void => {
  db.delete(voidRequest)
    .where(and(eq(voidRequest.lotId, lotId), eq(voidRequest.alias, name)))
    .run()
}
