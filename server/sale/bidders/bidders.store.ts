import { and, asc, eq, isNotNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { alias, disclosure, retractionRequest } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export type AliasRow = typeof alias.$inferSelect

/** Asked at every bid, so they are built once for each database. */
const queries = preparedFor((db) => ({
  alias: plainRead(
    db,
    ['lotId', 'personId'],
    db
      .select()
      .from(alias)
      .where(and(eq(alias.lotId, sql.placeholder('lotId')), eq(alias.personId, sql.placeholder('personId')))),
  ),
  named: plainRead(
    db,
    ['lotId', 'alias'],
    db
      .select()
      .from(alias)
      .where(and(eq(alias.lotId, sql.placeholder('lotId')), eq(alias.alias, sql.placeholder('alias')))),
  ),
  disclosed: plainRead(
    db,
    ['personId'],
    db
      .select({ lotId: disclosure.lotId, kind: disclosure.kind })
      .from(disclosure)
      .where(eq(disclosure.personId, sql.placeholder('personId'))),
  ),
  voided: plainRead(db, [], db.select().from(alias).where(isNotNull(alias.voidedAt))),
}))

export const findAlias = (db: Db, lotId: string, personId: string): AliasRow | undefined => queries(db).alias({ lotId, personId })[0]
/** Whoever bids under this alias on a lot. */
export const findNamed = (db: Db, lotId: string, name: string): AliasRow | undefined => queries(db).named({ lotId, alias: name })[0]
export const listAliases = (db: Db, lotId: string): AliasRow[] => db.select().from(alias).where(eq(alias.lotId, lotId)).all()
export const listVoidedAliases = (db: Db): AliasRow[] => queries(db).voided({})
export const insertAlias = (db: Db, row: { lotId: string; personId: string; alias: string }): void => {
  db.insert(alias).values(row).run()
}
export const voidAlias = (db: Db, lotId: string, name: string, at: Instant): void => {
  db.update(alias)
    .set({ voidedAt: at })
    .where(and(eq(alias.lotId, lotId), eq(alias.alias, name)))
    .run()
}

/** Household and hands-on work, with this lot or the whole sale. */
export const isConnected = (db: Db, personId: string, lotId: string): boolean =>
  queries(db)
    .disclosed({ personId })
    .some((one) => (one.lotId === lotId || one.lotId === null) && (one.kind === 'household' || one.kind === 'worked'))

export const insertDisclosure = (db: Db, row: typeof disclosure.$inferInsert): void => {
  db.insert(disclosure).values(row).run()
}
export const listDisclosuresOf = (db: Db, personId: string) =>
  db.select().from(disclosure).where(eq(disclosure.personId, personId)).orderBy(asc(disclosure.at)).all()
export const listDisclosures = (db: Db) => db.select().from(disclosure).orderBy(asc(disclosure.at)).all()

export const insertRetraction = (db: Db, row: typeof retractionRequest.$inferInsert): void => {
  db.insert(retractionRequest).values(row).onConflictDoNothing().run()
}
export const hasAskedRetraction = (db: Db, lotId: string, personId: string): boolean =>
  db
    .select({ at: retractionRequest.at })
    .from(retractionRequest)
    .where(and(eq(retractionRequest.lotId, lotId), eq(retractionRequest.personId, personId)))
    .get() !== undefined
export const listRetractions = (db: Db) => db.select().from(retractionRequest).orderBy(asc(retractionRequest.at)).all()
