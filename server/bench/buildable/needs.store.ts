import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { design, fitting, position, run, unit } from '#db/schema/index'

/** Positions in which nothing is fitted, of units that are not set aside, in the order of runs and numbers. */
export const openPositionRows = (db: Db) =>
  db
    .select({
      unitId: unit.id,
      tag: unit.tag,
      designId: design.id,
      designName: design.name,
      partId: position.partId,
      lineId: position.lineId,
    })
    .from(unit)
    .innerJoin(run, eq(run.id, unit.runId))
    .innerJoin(design, eq(design.id, sql<string>`coalesce(${unit.designId}, ${run.designId})`))
    .innerJoin(position, eq(position.designId, design.id))
    .leftJoin(fitting, and(eq(fitting.unitId, unit.id), eq(fitting.designator, position.designator), isNull(fitting.outAt)))
    .where(and(isNull(unit.setAsideAt), isNull(fitting.id)))
    .orderBy(asc(run.at), asc(run.tagPrefix), asc(unit.number))
    .all()
