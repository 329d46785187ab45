import { copyFileSync, existsSync, linkSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { Instant } from '#kernel/instant'
import { earlierKeysFile, publicKeysIn } from '#runtime/disk/keys'

/**
 * Copies a house for a rehearsal: the database through SQLite's online API, while the house goes on. Of its keys only the
 * public halves come along, so that what it signed verifies and nothing can be signed in its name; the rehearsal makes its own.
 */
export async function copyForRehearsal(dataDir: string, into: string): Promise<void> {
  const file = join(dataDir, 'tagstrip.db')
  if (!existsSync(file)) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
  mkdirSync(into, { recursive: true, mode: 0o700 })
  const handle = new Database(file, { readonly: true, fileMustExist: true })
  try {
    await handle.backup(join(into, 'tagstrip.db'))
  } finally {
    handle.close()
  }
  const copied = new Database(join(into, 'tagstrip.db'))
  // It sleeps from now until its day begins, and that is no outage.
  copied.exec('DELETE FROM alive')
  copied.close()
  const keys = join(into, 'keys')
  mkdirSync(keys, { recursive: true, mode: 0o700 })
  writeFileSync(earlierKeysFile(keys), `${JSON.stringify({ keys: publicKeysIn(join(dataDir, 'keys')) })}\n`)
  const photographs = join(dataDir, 'photographs')
  mkdirSync(join(into, 'photographs'), { recursive: true })
  if (existsSync(photographs))
    for (const name of readdirSync(photographs)) linkOrCopy(join(photographs, name), join(into, 'photographs', name))
}

/** Photographs are named by what is in them and never written again, so that two folders may share them. */
function linkOrCopy(from: string, to: string): void {
  try {
    linkSync(from, to)
  } catch {
    copyFileSync(from, to)
  }
}

/** When a rehearsal begins: five minutes before the stream opens, or now where that has passed. Null when no closing is still to come. */
export function beginsAt(dir: string, now: Instant): Instant | null {
  const handle = new Database(join(dir, 'tagstrip.db'), { readonly: true })
  try {
    const opens = handle.prepare('SELECT stream_opens_at FROM campaign').pluck().get() as number | undefined
    if (opens === undefined) return null
    // Never before what the copy knows of: a history does not run backwards.
    const known = (handle.prepare('SELECT max(at) FROM fact').pluck().get() as number | null) ?? 0
    const begins = Math.max(now, known, opens - 5 * 60_000)
    const coming = handle
      .prepare("SELECT count(*) FROM lot WHERE closes_at > ? AND state IN ('draft', 'ready', 'open', 'held')")
      .pluck()
      .get(begins) as number
    return coming > 0 ? begins : null
  } finally {
    handle.close()
  }
}
