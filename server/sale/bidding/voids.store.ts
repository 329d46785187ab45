import { and, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { voidRequest } from '#db/schema/index'

export const findVoidRequest = (db: Db, lotId: string, name: string) =>
  db
    .select()
    .from(voidRequest)
    .where(and(eq(voidRequest.lotId, lotId), eq(voidRequest.alias, name)))
    .get()
export const listVoidRequests = (db: Db, lotId: string) => db.select().from(voidRequest).where(eq(voidRequest.lotId, lotId)).all()
export const insertVoidRequest = (db: Db, row: typeof voidRequest.$inferInsert): void => {
  db.insert(voidRequest).values(row).run()
}
export const deleteVoidRequest = (db: Db, lotId: string, name: string): void => {
  db.delete(voidRequest)
    .where(and(eq(voidRequest.lotId, lotId), eq(voidRequest.alias, name)))
    .run()
}
