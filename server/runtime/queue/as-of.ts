import { max } from 'drizzle-orm'
import { fact } from '#db/schema/index'
import type { Sight } from './turn'

/** The number of the last fact: what is read now is as it stands after that one. */
export const asOf = ({ db }: Sight): number =>
  db
    .select({ last: max(fact.seq) })
    .from(fact)
    .get()?.last ?? 0
