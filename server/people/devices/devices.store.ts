import { and, asc, count, eq, inArray, ne } from 'drizzle-orm'
import type { Db } from '#db/open'
import { pushDevice } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export type DeviceRow = typeof pushDevice.$inferSelect

export const listDevicesOf = (db: Db, personIds: readonly string[]): DeviceRow[] =>
  personIds.length === 0
    ? []
    : db
        .select()
        .from(pushDevice)
        .where(inArray(pushDevice.personId, [...personIds]))
        .orderBy(asc(pushDevice.at), asc(pushDevice.id))
        .all()

export const countDevices = (db: Db): number => db.select({ many: count() }).from(pushDevice).get()?.many ?? 0

/** One browser is one device: signed in as somebody else it is theirs. */
export const putDevice = (db: Db, row: Omit<DeviceRow, 'toldAt'>): void => {
  db.delete(pushDevice).where(eq(pushDevice.endpoint, row.endpoint)).run()
  db.insert(pushDevice).values(row).run()
}
export const deleteDevice = (db: Db, id: string): void => void db.delete(pushDevice).where(eq(pushDevice.id, id)).run()
export const deleteDeviceOf = (db: Db, personId: string, id: string): boolean =>
  db
    .delete(pushDevice)
    .where(and(eq(pushDevice.personId, personId), eq(pushDevice.id, id)))
    .run().changes > 0
export const deleteOfOtherKeys = (db: Db, key: string): number => db.delete(pushDevice).where(ne(pushDevice.key, key)).run().changes
export const markTold = (db: Db, id: string, toldAt: Instant): void =>
  void db.update(pushDevice).set({ toldAt }).where(eq(pushDevice.id, id)).run()
