import { asc, desc, eq, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { preparedFor } from '#db/prepared'
import { benchTimeCorrection, benchWeek, person, spentShown } from '#db/schema/index'
import type { Stamp } from './sessions.rules'

export interface UnitRow {
  unitId: string
  tag: string
  designKey: string
  designName: string
  isFinished: 0 | 1
  soakHours: number
}

export interface FittedRow {
  unitId: string
  partId: string
  batchId: string
  isGift: 0 | 1
  count: number
}

/** Many rows of few columns, made by SQL for all machines at once: asked for one by one they would be tens of thousands. */
export const spentFrom = preparedFor(({ $client }) => ({
  /** What anybody did on a machine, each instant once. */
  stamps: $client.prepare<[], Stamp>(
    `SELECT unit_id AS unitId, by_person_id AS personId, at FROM reading
     UNION SELECT unit_id, by_person_id, at FROM fitting
     UNION SELECT unit_id, out_by_person_id, out_at FROM fitting WHERE out_at IS NOT NULL AND out_by_person_id IS NOT NULL
     UNION SELECT unit_id, by_person_id, at FROM rework
     UNION SELECT unit_id, by_person_id, at FROM hold_release
     UNION SELECT unit_id, by_person_id, at FROM observation
     UNION SELECT unit_id, by_person_id, at FROM evidence
     UNION SELECT unit_id, by_person_id, started_at FROM soak_run
     UNION SELECT unit_id, opened_by_person_id, opened_at FROM fault
     UNION SELECT unit_id, closed_by_person_id, closed_at FROM fault WHERE closed_at IS NOT NULL AND closed_by_person_id IS NOT NULL`,
  ),
  units: $client.prepare<[], UnitRow>(
    `SELECT unit.id AS unitId, unit.tag, design.key AS designKey, design.name AS designName,
       EXISTS (SELECT 1 FROM certificate WHERE certificate.unit_id = unit.id AND withdrawn_at IS NULL AND superseded_by IS NULL) AS isFinished,
       coalesce((SELECT max(hours) FROM check_step WHERE check_step.design_id = design.id), 0) AS soakHours
     FROM unit JOIN run ON run.id = unit.run_id JOIN design ON design.id = coalesce(unit.design_id, run.design_id)
     ORDER BY run.at, run.tag_prefix, unit.number`,
  ),
  fitted: $client.prepare<[], FittedRow>(
    `SELECT fitting.unit_id AS unitId, batch.part_id AS partId, batch.id AS batchId, batch.gift_id IS NOT NULL AS isGift, count(*) AS count
     FROM fitting JOIN batch ON batch.id = fitting.batch_id WHERE fitting.out_at IS NULL
     GROUP BY fitting.unit_id, batch.id ORDER BY fitting.unit_id, batch.number`,
  ),
  takenOut: $client
    .prepare<[string], number>(
      `SELECT count(*) FROM fitting WHERE unit_id = ? AND out_at IS NOT NULL AND kind <> 'correction' AND out_rework_id IS NOT NULL`,
    )
    .pluck(),
  corrected: $client.prepare<[], { unitId: string; minutes: number }>(
    'SELECT unit_id AS unitId, sum(minutes) AS minutes FROM bench_time_correction GROUP BY unit_id',
  ),
}))

export const correctionsOf = (db: Db, unitId: string) =>
  db
    .select({ at: benchTimeCorrection.at, by: person.name, minutes: benchTimeCorrection.minutes, reason: benchTimeCorrection.reason })
    .from(benchTimeCorrection)
    .innerJoin(person, eq(person.id, benchTimeCorrection.byPersonId))
    .where(eq(benchTimeCorrection.unitId, unitId))
    .orderBy(asc(benchTimeCorrection.at), asc(sql`${benchTimeCorrection}.rowid`))
    .all()

export const insertCorrection = (db: Db, row: typeof benchTimeCorrection.$inferSelect): void =>
  void db.insert(benchTimeCorrection).values(row).run()

export const findWeek = (db: Db) =>
  db
    .select({ row: benchWeek, by: person.name })
    .from(benchWeek)
    .innerJoin(person, eq(person.id, benchWeek.byPersonId))
    .orderBy(desc(benchWeek.at), desc(sql`${benchWeek}.rowid`))
    .limit(1)
    .get()

export const insertWeek = (db: Db, row: typeof benchWeek.$inferSelect): void => void db.insert(benchWeek).values(row).run()

export const findShown = (db: Db, unitId: string) => db.select().from(spentShown).where(eq(spentShown.unitId, unitId)).get()

export const saveShown = (db: Db, row: typeof spentShown.$inferSelect): void =>
  void db.insert(spentShown).values(row).onConflictDoUpdate({ target: spentShown.unitId, set: row }).run()
