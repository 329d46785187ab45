import { count, desc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { homeReport } from '#db/schema/index'

type HomeReportRow = typeof homeReport.$inferSelect

export const insertHomeReport = (db: Db, row: HomeReportRow) => db.insert(homeReport).values(row).run()

export const listHomeReports = (db: Db, unitId: string): HomeReportRow[] =>
  db.select().from(homeReport).where(eq(homeReport.unitId, unitId)).orderBy(desc(homeReport.at), desc(homeReport.id)).all()

export const countHomeReports = (db: Db, unitId: string): number =>
  db.select({ n: count() }).from(homeReport).where(eq(homeReport.unitId, unitId)).get()?.n ?? 0
