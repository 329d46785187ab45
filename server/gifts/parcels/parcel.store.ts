import { count, desc, eq, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { parcel } from '#db/schema/index'

export type ParcelRow = typeof parcel.$inferSelect

export const insertParcel = (db: Db, row: ParcelRow): void => void db.insert(parcel).values(row).run()

export const findParcelRow = (db: Db, id: string): ParcelRow | undefined => db.select().from(parcel).where(eq(parcel.id, id)).get()

/** Newest first; all of them unless `most` are asked for. */
export const parcelRows = (db: Db, most = -1): ParcelRow[] =>
  db.select().from(parcel).orderBy(desc(parcel.arrivedAt), desc(sql`rowid`)).limit(most).all()

/** Parcels of one record go to another. */
export const giveParcels = (db: Db, fromDonorId: string, toDonorId: string): void =>
  void db.update(parcel).set({ donorId: toDonorId }).where(eq(parcel.donorId, fromDonorId)).run()

export const countParcelsOf = (db: Db, donorId: string): number =>
  db.select({ all: count() }).from(parcel).where(eq(parcel.donorId, donorId)).get()?.all ?? 0
