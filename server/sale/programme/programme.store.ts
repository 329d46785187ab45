import { and, asc, desc, eq, inArray, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { audienceZone, programmeItem } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export type ItemRow = typeof programmeItem.$inferSelect
export type ZoneRow = typeof audienceZone.$inferSelect

export const readItems = (db: Db, campaign: number): ItemRow[] =>
  db
    .select()
    .from(programmeItem)
    .where(eq(programmeItem.campaignNumber, campaign))
    .orderBy(asc(programmeItem.startsAt), asc(programmeItem.id))
    .all()

export const findItem = (db: Db, id: string): ItemRow | null =>
  db.select().from(programmeItem).where(eq(programmeItem.id, id)).get() ?? null

export function insertItem(db: Db, row: ItemRow): void {
  db.insert(programmeItem).values(row).run()
}

export function updateItem(db: Db, id: string, change: Partial<ItemRow>): void {
  db.update(programmeItem).set(change).where(eq(programmeItem.id, id)).run()
}

export function deleteItem(db: Db, id: string): void {
  db.delete(programmeItem).where(eq(programmeItem.id, id)).run()
}

/** Takes the closings of these lots out of the day. */
export const deleteClosings = (db: Db, lotIds: readonly string[]): void =>
  void db
    .delete(programmeItem)
    .where(inArray(programmeItem.lotId, [...lotIds]))
    .run()

/** Announces of these what was not yet; answers how many. */
export const announceItems = (db: Db, ids: readonly string[], at: Instant): number =>
  db
    .update(programmeItem)
    .set({ announcedAt: at })
    .where(and(inArray(programmeItem.id, [...ids]), isNull(programmeItem.announcedAt)))
    .run().changes

export const readAudience = (db: Db): ZoneRow[] =>
  db.select().from(audienceZone).orderBy(desc(audienceZone.shareBp), asc(audienceZone.zone)).all()

export function replaceAudience(db: Db, zones: readonly ZoneRow[]): void {
  db.delete(audienceZone).run()
  for (const zone of zones) db.insert(audienceZone).values(zone).run()
}
