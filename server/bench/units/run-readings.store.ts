import { asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { reading, unit } from '#db/schema/index'

export const readingsOfRun = (db: Db, runId: string) =>
  db
    .select({
      unitId: reading.unitId,
      tag: unit.tag,
      seq: reading.seq,
      check: reading.checkKey,
      verdict: reading.verdict,
      correction: reading.correction,
    })
    .from(reading)
    .innerJoin(unit, eq(unit.id, reading.unitId))
    .where(eq(unit.runId, runId))
    .orderBy(asc(unit.number), asc(reading.seq))
    .all()
