import { and, asc, count, desc, eq, isNotNull, min } from 'drizzle-orm'
import type { Db } from '#db/open'
import { sheet } from '#db/schema/index'

export type SheetRow = typeof sheet.$inferSelect

export const insertSheet = (db: Db, row: SheetRow): void => void db.insert(sheet).values(row).run()

export const updateSheet = (db: Db, id: string, change: Partial<SheetRow>): void =>
  void db.update(sheet).set(change).where(eq(sheet.id, id)).run()

export const findSheetRow = (db: Db, id: string): SheetRow | undefined => db.select().from(sheet).where(eq(sheet.id, id)).get()

/** What is said of each in a list: never what it holds. */
export const listSheetRows = (db: Db) =>
  db
    .select({
      id: sheet.id,
      what: sheet.what,
      name: sheet.name,
      state: sheet.state,
      items: sheet.items,
      done: sheet.done,
      summary: sheet.summary,
      at: sheet.at,
      storedAt: sheet.storedAt,
    })
    .from(sheet)
    .orderBy(desc(sheet.at))
    .all()

export const countOpenSheets = (db: Db): number => db.select({ all: count() }).from(sheet).where(eq(sheet.state, 'open')).get()?.all ?? 0

export const deleteOpenSheet = (db: Db, id: string): number =>
  db
    .delete(sheet)
    .where(and(eq(sheet.id, id), eq(sheet.state, 'open')))
    .run().changes

export const storedDigests = (db: Db): string[] =>
  db
    .select({ digest: sheet.digest })
    .from(sheet)
    .where(isNotNull(sheet.digest))
    .all()
    .flatMap(({ digest }) => digest ?? [])

/** When something of a sheet that is being stored was stored last, of the one that waits longest. */
export const storingSince = (db: Db): number | null =>
  db
    .select({ at: min(sheet.changedAt) })
    .from(sheet)
    .where(eq(sheet.state, 'storing'))
    .get()?.at ?? null

export const storingRows = (db: Db): SheetRow[] => db.select().from(sheet).where(eq(sheet.state, 'storing')).orderBy(asc(sheet.at)).all()
