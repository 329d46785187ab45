import { asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { matchPromise } from '#db/schema/index'

export type PromiseRow = typeof matchPromise.$inferSelect

export const listPromises = (db: Db, campaign: number): PromiseRow[] =>
  db.select().from(matchPromise).where(eq(matchPromise.campaignNumber, campaign)).orderBy(asc(matchPromise.at), asc(matchPromise.id)).all()

export const findPromise = (db: Db, id: string): PromiseRow | null =>
  db.select().from(matchPromise).where(eq(matchPromise.id, id)).get() ?? null

export const insertPromise = (db: Db, row: PromiseRow): void => {
  db.insert(matchPromise).values(row).run()
}

export const endPromise = (db: Db, id: string, endedAt: number, endedWhy: string): void => {
  db.update(matchPromise).set({ endedAt, endedWhy }).where(eq(matchPromise.id, id)).run()
}
