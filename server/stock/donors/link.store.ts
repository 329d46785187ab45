import { and, desc, eq, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { donorLink } from '#db/schema/index'

export type LinkRow = typeof donorLink.$inferSelect

export const insertLink = (db: Db, row: LinkRow): void => void db.insert(donorLink).values(row).run()

export const findLinkRow = (db: Db, tokenHash: string): LinkRow | undefined =>
  db
    .select()
    .from(donorLink)
    .where(and(eq(donorLink.tokenHash, tokenHash), isNull(donorLink.closedAt)))
    .get()

export const closeLinks = (db: Db, donorId: string, at: number): number =>
  db
    .update(donorLink)
    .set({ closedAt: at })
    .where(and(eq(donorLink.donorId, donorId), isNull(donorLink.closedAt)))
    .run().changes

export const latestLink = (db: Db, donorId: string): LinkRow | undefined =>
  db
    .select()
    .from(donorLink)
    .where(and(eq(donorLink.donorId, donorId), isNull(donorLink.closedAt)))
    .orderBy(desc(donorLink.madeAt))
    .get()

export const giveLinks = (db: Db, fromDonorId: string, toDonorId: string): void =>
  void db.update(donorLink).set({ donorId: toDonorId }).where(eq(donorLink.donorId, fromDonorId)).run()
