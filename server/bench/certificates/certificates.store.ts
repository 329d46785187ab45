import { and, asc, eq, isNull, like } from 'drizzle-orm'
import type { Db } from '#db/open'
import { certificate } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export type CertificateRow = typeof certificate.$inferSelect

const stands = and(isNull(certificate.supersededBy), isNull(certificate.withdrawnAt))

export const findBySerial = (db: Db, serial: string): CertificateRow | null =>
  db.select().from(certificate).where(eq(certificate.serial, serial)).get() ?? null

export const findById = (db: Db, id: string): CertificateRow | null =>
  db.select().from(certificate).where(eq(certificate.id, id)).get() ?? null

export const findStanding = (db: Db, unitId: string): CertificateRow | null =>
  db
    .select()
    .from(certificate)
    .where(and(eq(certificate.unitId, unitId), stands))
    .get() ?? null

/** All that were ever issued for a unit, the newest first; of those of one instant the one with the higher number. */
export const listOfUnit = (db: Db, unitId: string): CertificateRow[] =>
  db
    .select()
    .from(certificate)
    .where(eq(certificate.unitId, unitId))
    .all()
    .sort((a, b) => b.issuedAt - a.issuedAt || numberOf(b.serial) - numberOf(a.serial))

/** The one that was issued for the same unit after this; null while there is none. One stands at a time, so it is what followed. */
export function nextOfUnit(db: Db, { unitId, id }: CertificateRow): CertificateRow | null {
  const newestFirst = listOfUnit(db, unitId)
  return newestFirst[newestFirst.findIndex((row) => row.id === id) - 1] ?? null
}

const numberOf = (serial: string) => Number(serial.split('-')[2])

/** The serial with the highest number of a year; compared as numbers, since the ten-thousandth has one digit more. */
export function lastSerialOf(db: Db, year: number): string | null {
  const serials = db
    .select({ serial: certificate.serial })
    .from(certificate)
    .where(like(certificate.serial, `TS-${year}-%`))
    .all()
  return serials.map((row) => row.serial).sort((a, b) => numberOf(b) - numberOf(a))[0] ?? null
}

export const insertCertificate = (db: Db, row: CertificateRow) => db.insert(certificate).values(row).run()

/** The reference may point at a row that is written next: the database looks at it when the turn commits. */
export const markSuperseded = (db: Db, id: string, by: string) =>
  db.update(certificate).set({ supersededBy: by }).where(eq(certificate.id, id)).run()

/** `checks` are to be measured again; `seq` is the last thing that had happened to the unit by then. */
export const markWithdrawn = (db: Db, id: string, ended: { at: Instant; reason: string; checks: string[]; seq: number }) =>
  db
    .update(certificate)
    .set({ withdrawnAt: ended.at, withdrawnReason: ended.reason, withdrawnChecks: ended.checks, withdrawnSeq: ended.seq })
    .where(eq(certificate.id, id))
    .run()

/** Every certificate that was ever issued, in the order of issue. */
export const listAll = (db: Db): CertificateRow[] =>
  db.select().from(certificate).orderBy(asc(certificate.issuedAt), asc(certificate.serial)).all()
