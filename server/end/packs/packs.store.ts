import { desc } from 'drizzle-orm'
import type { Db } from '#db/open'
import { packMade } from '#db/schema/index'

export type PackRow = typeof packMade.$inferSelect

/** The newest first. */
export const listPacks = (db: Db): PackRow[] => db.select().from(packMade).orderBy(desc(packMade.at)).all()
export const insertPack = (db: Db, row: PackRow): void => void db.insert(packMade).values(row).run()
