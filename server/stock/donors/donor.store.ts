import { asc, eq, inArray, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { consent, donor } from '#db/schema/index'

export type DonorRow = typeof donor.$inferSelect
export type ConsentRow = typeof consent.$inferSelect

export const insertDonor = (db: Db, row: DonorRow): void => void db.insert(donor).values(row).run()

export const updateDonor = (db: Db, id: string, change: Partial<DonorRow>): void =>
  void db.update(donor).set(change).where(eq(donor.id, id)).run()

export const findDonorRow = (db: Db, id: string): DonorRow | undefined => db.select().from(donor).where(eq(donor.id, id)).get()

export const findDonorByContact = (db: Db, contact: string): DonorRow | undefined =>
  db
    .select()
    .from(donor)
    .where(eq(sql`lower(${donor.contact})`, contact.toLowerCase()))
    .orderBy(asc(donor.at))
    .get()

/** Records that were given up in a merge are not donors any more. */
export const listDonorRows = (db: Db): DonorRow[] =>
  db.select().from(donor).where(isNull(donor.mergedIntoId)).orderBy(sql`${donor.name} COLLATE NOCASE`, donor.id).all()

/** The records that were merged into this one, first to last. */
export const mergedRows = (db: Db, intoId: string): DonorRow[] =>
  db.select().from(donor).where(eq(donor.mergedIntoId, intoId)).orderBy(asc(donor.mergedAt)).all()

export const donorRows = (db: Db, ids: readonly string[]): DonorRow[] =>
  db
    .select()
    .from(donor)
    .where(inArray(donor.id, [...ids]))
    .all()

export const insertConsent = (db: Db, row: ConsentRow): void => void db.insert(consent).values(row).run()

/** In the order in which they were kept: two of one instant stand as they were said. */
export const consentRows = (db: Db, donorIds?: readonly string[]): ConsentRow[] => {
  const order = [asc(consent.at), asc(sql`rowid`)]
  if (donorIds === undefined) {
    return db
      .select()
      .from(consent)
      .orderBy(...order)
      .all()
  }
  return db
    .select()
    .from(consent)
    .where(inArray(consent.donorId, [...donorIds]))
    .orderBy(...order)
    .all()
}
