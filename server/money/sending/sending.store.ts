import { and, asc, eq, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { consignment, deliveryAddress, packedItem, packingPhotograph, parcelWish, postageBand, sendingTerms } from '#db/schema/index'
import type { Band, SendingTerms } from './sending.contract'

export type ConsignmentRow = typeof consignment.$inferSelect
export type AddressRow = typeof deliveryAddress.$inferSelect

export const findTerms = (db: Db, campaign: number): SendingTerms | undefined =>
  db.select().from(sendingTerms).where(eq(sendingTerms.id, campaign)).get()
export function keepTerms(db: Db, campaign: number, terms: SendingTerms): void {
  db.insert(sendingTerms)
    .values({ id: campaign, ...terms })
    .onConflictDoUpdate({ target: sendingTerms.id, set: terms })
    .run()
}

export const listBands = (db: Db, campaign: number): Band[] =>
  db
    .select()
    .from(postageBand)
    .where(eq(postageBand.campaignNumber, campaign))
    .orderBy(asc(postageBand.seq))
    .all()
    .map(({ seq: _seq, campaignNumber: _campaign, ...band }) => band)
export function replaceBands(db: Db, campaignNumber: number, bands: readonly Band[]): void {
  db.delete(postageBand).where(eq(postageBand.campaignNumber, campaignNumber)).run()
  for (const [seq, band] of bands.entries())
    db.insert(postageBand)
      .values({ campaignNumber, seq, ...band })
      .run()
}

export const findAddress = (db: Db, lotId: string): AddressRow | undefined =>
  db.select().from(deliveryAddress).where(eq(deliveryAddress.lotId, lotId)).get()
export const listAddresses = (db: Db): AddressRow[] => db.select().from(deliveryAddress).all()
export function keepAddress(db: Db, row: AddressRow): void {
  db.insert(deliveryAddress).values(row).onConflictDoUpdate({ target: deliveryAddress.lotId, set: row }).run()
}
export const deleteAddress = (db: Db, lotId: string): void => {
  db.delete(deliveryAddress).where(eq(deliveryAddress.lotId, lotId)).run()
}

export const findWish = (db: Db, personId: string) => db.select().from(parcelWish).where(eq(parcelWish.personId, personId)).get()
export function keepWish(db: Db, row: typeof parcelWish.$inferInsert): void {
  db.insert(parcelWish).values(row).onConflictDoUpdate({ target: parcelWish.personId, set: row }).run()
}

export const findConsignment = (db: Db, lotId: string): ConsignmentRow | undefined =>
  db.select().from(consignment).where(eq(consignment.lotId, lotId)).get()
export const listConsignments = (db: Db): ConsignmentRow[] => db.select().from(consignment).all()
export function changeConsignment(db: Db, lotId: string, change: Partial<Omit<ConsignmentRow, 'lotId'>>): void {
  db.insert(consignment).values({ lotId }).onConflictDoNothing().run()
  db.update(consignment).set(change).where(eq(consignment.lotId, lotId)).run()
}

export const listPacked = (db: Db, lotId: string) => db.select().from(packedItem).where(eq(packedItem.lotId, lotId)).all()
export const listAllPacked = (db: Db) => db.select().from(packedItem).all()
export const insertPacked = (db: Db, row: typeof packedItem.$inferInsert): void => {
  db.insert(packedItem).values(row).onConflictDoNothing().run()
}
export const deletePacked = (db: Db, lotId: string, item: string): void => {
  db.delete(packedItem)
    .where(and(eq(packedItem.lotId, lotId), eq(packedItem.item, item)))
    .run()
}

export const listPackingPhotographs = (db: Db, lotId: string) =>
  db.select().from(packingPhotograph).where(eq(packingPhotograph.lotId, lotId)).orderBy(asc(packingPhotograph.seq)).all()
export function insertPackingPhotograph(db: Db, row: Omit<typeof packingPhotograph.$inferInsert, 'seq'>): void {
  const top = db
    .select({ top: max(packingPhotograph.seq) })
    .from(packingPhotograph)
    .where(eq(packingPhotograph.lotId, row.lotId))
    .get()?.top
  db.insert(packingPhotograph)
    .values({ ...row, seq: (top ?? -1) + 1 })
    .run()
}
