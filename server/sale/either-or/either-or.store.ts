import { and, asc, eq, inArray, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { chain, chainLink } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

/** An either-or; its tables are called `chain` and `chain_link`. */
export type StoredEitherOr = typeof chain.$inferSelect
export type StoredLink = typeof chainLink.$inferSelect

/** Asked at every bid and every close, so it is built once for each database. */
const inPlay = preparedFor((db) =>
  plainRead(
    db,
    ['lotId'],
    db
      .select({ chainId: chainLink.chainId, place: chainLink.place, phase: chainLink.phase, personId: chain.personId })
      .from(chainLink)
      .innerJoin(chain, eq(chain.id, chainLink.chainId))
      .where(and(eq(chainLink.lotId, sql.placeholder('lotId')), sql`${chainLink.phase} IN ('waiting', 'awake')`))
      .orderBy(asc(chain.at), asc(chain.id)),
  ),
)

/** The links on a lot that wait or stand, in the order in which their either-ors were made. */
export const listInPlay = (db: Db, lotId: string) => inPlay(db)({ lotId })

export const findEitherOr = (db: Db, id: string): StoredEitherOr | undefined => db.select().from(chain).where(eq(chain.id, id)).get()
export const listEitherOrsOf = (db: Db, personId: string): StoredEitherOr[] =>
  db.select().from(chain).where(eq(chain.personId, personId)).orderBy(asc(chain.at)).all()
export const listLinks = (db: Db, chainId: string): StoredLink[] =>
  db.select().from(chainLink).where(eq(chainLink.chainId, chainId)).orderBy(asc(chainLink.place)).all()

export function insertEitherOr(db: Db, row: StoredEitherOr, links: readonly { lotId: string; sealed: string }[]): void {
  db.insert(chain).values(row).run()
  for (const [index, link] of links.entries())
    db.insert(chainLink)
      .values({ chainId: row.id, place: index + 1, ...link })
      .run()
}

type Change = Partial<Pick<StoredLink, 'phase' | 'why' | 'wokeAt' | 'hammerMinor' | 'sealed'>>
export const changeLink = (db: Db, chainId: string, place: number, change: Change): void => {
  db.update(chainLink)
    .set(change)
    .where(and(eq(chainLink.chainId, chainId), eq(chainLink.place, place)))
    .run()
}
export const lapseWaiting = (db: Db, chainId: string, why: string): void => {
  db.update(chainLink)
    .set({ phase: 'lapsed', why })
    .where(and(eq(chainLink.chainId, chainId), inArray(chainLink.phase, ['waiting'])))
    .run()
}
export const wakeLink = (db: Db, chainId: string, place: number, wokeAt: Instant): void =>
  changeLink(db, chainId, place, { phase: 'awake', wokeAt })
