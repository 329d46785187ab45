import { and, asc, eq, inArray, isNull, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { fitting, instrument, person, run, unit } from '#db/schema/index'

export type RunRow = typeof run.$inferSelect
export type UnitRow = typeof unit.$inferSelect
export type InstrumentRow = typeof instrument.$inferSelect

export const findRunRow = (db: Db, id: string): RunRow | undefined => db.select().from(run).where(eq(run.id, id)).get()

export const findRunByPrefix = (db: Db, tagPrefix: string): RunRow | undefined =>
  db.select().from(run).where(eq(run.tagPrefix, tagPrefix)).get()

export const allRunRows = (db: Db): RunRow[] => db.select().from(run).orderBy(asc(run.at), asc(run.tagPrefix)).all()

export const insertRun = (db: Db, row: RunRow): void => void db.insert(run).values(row).run()

export const lastNumberIn = (db: Db, runId: string): number =>
  db
    .select({ last: max(unit.number) })
    .from(unit)
    .where(eq(unit.runId, runId))
    .get()?.last ?? 0

export const insertUnit = (db: Db, row: UnitRow): void => void db.insert(unit).values(row).run()

export const setAsideRow = (db: Db, id: string, at: number | null, reason: string | null): void =>
  void db.update(unit).set({ setAsideAt: at, setAsideReason: reason }).where(eq(unit.id, id)).run()

export const setDesignRow = (db: Db, id: string, designId: string): void =>
  void db.update(unit).set({ designId }).where(eq(unit.id, id)).run()

/** Units in which something of these batches sits now. */
export const unitsHolding = (db: Db, batchIds: readonly string[]): UnitRow[] => {
  const ids = db
    .selectDistinct({ id: fitting.unitId })
    .from(fitting)
    .where(and(inArray(fitting.batchId, [...batchIds]), isNull(fitting.outAt)))
    .all()
  return ids.length === 0
    ? []
    : db
        .select()
        .from(unit)
        .where(
          inArray(
            unit.id,
            ids.map(({ id }) => id),
          ),
        )
        .orderBy(asc(unit.tag))
        .all()
}

export const allInstrumentRows = (db: Db): InstrumentRow[] => db.select().from(instrument).orderBy(asc(instrument.name)).all()

export const findInstrumentRow = (db: Db, id: string): InstrumentRow | undefined =>
  db.select().from(instrument).where(eq(instrument.id, id)).get()

export const findInstrumentByName = (db: Db, name: string): InstrumentRow | undefined =>
  db.select().from(instrument).where(eq(instrument.name, name)).get()

export const insertInstrument = (db: Db, row: InstrumentRow): void => void db.insert(instrument).values(row).run()

export const updateInstrument = (db: Db, row: InstrumentRow): void =>
  void db.update(instrument).set(row).where(eq(instrument.id, row.id)).run()

/** Names and roles of people, for a record that says who did what. */
export const peopleById = (db: Db, ids: readonly string[]): Map<string, { name: string; role: string }> =>
  new Map(
    db
      .select({ id: person.id, name: person.name, role: person.role })
      .from(person)
      .where(inArray(person.id, [...new Set(ids)]))
      .all()
      .map(({ id, name, role }) => [id, { name, role }]),
  )
