import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import type { OpenDatabase } from './open'
import * as schema from './schema/index'

/** A database in memory with the tables of another and none of its rows. Rows may name others that are not there. */
export function openInMemory(like: Database.Database): OpenDatabase {
  const handle = new Database(':memory:')
  handle.pragma('foreign_keys = OFF')
  // SQLite makes its own tables by itself.
  const made = like.prepare("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY rowid")
  for (const sql of made.pluck().all() as string[]) handle.exec(sql)
  return { db: drizzle(handle, { schema }), handle }
}
