import { and, asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { campaign, streamDay } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { Span } from './stream-days.rules'

export type FurtherDay = typeof streamDay.$inferSelect

/** The days after the first, in the order of time. */
export const listFurther = (db: Db, campaignId: string): FurtherDay[] =>
  db.select().from(streamDay).where(eq(streamDay.campaignId, campaignId)).orderBy(asc(streamDay.opensAt)).all()

export const insertDay = (db: Db, row: FurtherDay): void => void db.insert(streamDay).values(row).run()

export const changeDay = (db: Db, campaignId: string, opensAt: Instant, to: Span): void =>
  void db
    .update(streamDay)
    .set({ opensAt: to.opensAt, closesAt: to.closesAt })
    .where(and(eq(streamDay.campaignId, campaignId), eq(streamDay.opensAt, opensAt)))
    .run()

export const deleteDay = (db: Db, campaignId: string, opensAt: Instant): void =>
  void db
    .delete(streamDay)
    .where(and(eq(streamDay.campaignId, campaignId), eq(streamDay.opensAt, opensAt)))
    .run()

/** The end of the first day, which stands with the campaign itself. */
export const moveFirstEnd = (db: Db, campaignId: string, streamClosesAt: Instant): void =>
  void db.update(campaign).set({ streamClosesAt }).where(eq(campaign.id, campaignId)).run()
