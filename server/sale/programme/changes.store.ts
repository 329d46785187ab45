import { asc, inArray } from 'drizzle-orm'
import type { Db } from '#db/open'
import { fact } from '#db/schema/index'
import { DAY_FACTS, type DayFact } from './changes.rules'

export const readDayFacts = (db: Db): DayFact[] =>
  db
    .select()
    .from(fact)
    .where(inArray(fact.kind, [...DAY_FACTS]))
    .orderBy(asc(fact.seq))
    .all()
