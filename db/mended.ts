import type Database from 'better-sqlite3'

/** What the text of a step says by now, for a database that took the step while it said something else. */
export interface Mend {
  isDue(handle: Database.Database): boolean
  mend(handle: Database.Database): void
}

const sqlOf = (handle: Database.Database, name: string): string =>
  String(handle.prepare("SELECT sql FROM sqlite_schema WHERE type = 'table' AND name = ?").pluck().get(name) ?? '')

/** units-their-fittings-readings-and-rework: verdicts are words, and of a file the whole digest is kept. */
const readings: Mend = {
  isDue: (handle) => sqlOf(handle, 'reading').includes('pass-within-doubt'),
  mend(handle) {
    const now = sqlOf(handle, 'reading')
      .replaceAll('pass-within-doubt', 'pass within doubt')
      .replaceAll('fail-within-doubt', 'fail within doubt')
      .replace('length(file_sha) IN (8, 64)', 'length(file_sha) = 64')
    // What rows may hold is text of the schema alone: no row is laid out anew (sqlite.org/lang_altertable.html, section 7).
    const version = Number(handle.pragma('schema_version', { simple: true }))
    handle.unsafeMode(true)
    try {
      handle.pragma('writable_schema = ON')
      handle.prepare("UPDATE sqlite_schema SET sql = ? WHERE type = 'table' AND name = 'reading'").run(now)
      handle.pragma(`schema_version = ${version + 1}`)
      handle.pragma('writable_schema = OFF')
    } finally {
      handle.unsafeMode(false)
    }
    handle.exec(`
      UPDATE reading SET verdict = replace(verdict, '-', ' ') WHERE verdict LIKE '%-within-doubt';
      UPDATE reading SET note = trim(note || ' File ' || file_sha || '.'), file_sha = NULL WHERE length(file_sha) = 8;
    `)
  },
}

/** maxima-and-reserves-lie-sealed: why an either-or lapsed names no cap, since that lies sealed beside it. */
const caps: Mend = {
  isDue: (handle) =>
    sqlOf(handle, 'chain_link').includes('sealed') &&
    handle.prepare("SELECT 1 FROM chain_link WHERE why LIKE 'Your cap of %' LIMIT 1").get() !== undefined,
  mend(handle) {
    handle.exec(`
      UPDATE chain_link SET why = 'Your cap could be passed.' WHERE why LIKE 'Your cap of %';
      UPDATE letter
      SET body = substr(body, 1, instr(body, 'Your cap of ') + 7) || substr(body, instr(body, ' could be passed.'))
      WHERE instr(body, 'Your cap of ') > 0 AND instr(body, ' could be passed.') > instr(body, 'Your cap of ');
      PRAGMA user_version = 1;
    `)
  },
}

export const MENDS: readonly Mend[] = [readings, caps]
