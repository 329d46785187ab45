import { desc } from 'drizzle-orm'
import { letter } from '../../db/schema'
import type { Sight } from '../runtime/turn'

/** The latest letters, newest first, with whether they have gone. */
export const listLetters = (sight: Sight, most = 200) => sight.db.select().from(letter).orderBy(desc(letter.at)).limit(most).all()
