import { asc, eq, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { person, replacementPrice } from '#db/schema/index'

export type PriceRow = typeof replacementPrice.$inferSelect

export const insertPrice = (db: Db, row: PriceRow): void => void db.insert(replacementPrice).values(row).run()

/** Every price that was ever said, the earlier first, with the name of whoever said it. */
export const priceRows = (db: Db): (PriceRow & { by: string })[] =>
  db
    .select({ row: replacementPrice, by: person.name })
    .from(replacementPrice)
    .innerJoin(person, eq(person.id, replacementPrice.byPersonId))
    .orderBy(asc(replacementPrice.at), asc(sql`${replacementPrice}.rowid`))
    .all()
    .map(({ row, by }) => ({ ...row, by }))
