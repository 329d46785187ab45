import { closeSync, existsSync, fdatasyncSync, openSync, statSync } from 'node:fs'
import Database from 'better-sqlite3'

/** How much of the database is copied in one go: a few milliseconds. */
const PAGES_AT_ONCE = 256
const SYNC_EVERY_PAGES = 512
/** While a copy reads one state of the database, whatever is written meanwhile stays in its log: no more than this. */
const MOST_LOG_BYTES = 1024 * 1024 * 1024

/** Told how much has been copied. */
export type TellBytes = (done: number, of: number) => void

/**
 * Copies a database that is in use, as it is at one instant. A reader of its own holds that state until it has been copied, so
 * writes neither wait nor make the copy begin again. Refuses where the log of the database grows too large meanwhile.
 */
export async function copyDatabase(file: string, to: string, tell: TellBytes = () => {}, mostLogBytes = MOST_LOG_BYTES): Promise<void> {
  const reader = new Database(file, { readonly: true, fileMustExist: true })
  let target: number | null = null
  try {
    const pageBytes = Number(reader.pragma('page_size', { simple: true }))
    reader.exec('BEGIN')
    // Until something is read, no state is held.
    reader.prepare('SELECT count(*) FROM sqlite_schema').get()
    let synced = 0
    await reader.backup(to, {
      progress: ({ totalPages, remainingPages }) => {
        const done = totalPages - remainingPages
        tell(done * pageBytes, totalPages * pageBytes)
        if (done - synced >= SYNC_EVERY_PAGES) {
          // Little by little: a disk that takes all of it at once keeps whoever commits a bid waiting.
          target ??= openSync(to, 'r+')
          fdatasyncSync(target)
          synced = done
        }
        refuseLongLog(`${file}-wal`, mostLogBytes)
        return PAGES_AT_ONCE
      },
    })
  } finally {
    if (target !== null) closeSync(target)
    reader.close()
  }
}

/** Copies a database that nobody else writes to, before anything is changed in it. Whoever calls waits for it. */
export function copyDatabaseAtOnce(file: string, to: string): void {
  const reader = new Database(file, { readonly: true, fileMustExist: true })
  try {
    reader.prepare('VACUUM INTO ?').run(to)
  } finally {
    reader.close()
  }
}

function refuseLongLog(log: string, most: number): void {
  const bytes = existsSync(log) ? statSync(log).size : 0
  if (bytes > most)
    throw new Error(
      `The copy was given up: while it was made, the log of the database grew to ${Math.round(bytes / 1024 / 1024)} MB. Make it when less is written, or onto a faster disk.`,
    )
}

/** Throws, in words, unless a database is whole in itself. Reads all of it. */
export function checkDatabase(file: string): void {
  const copy = new Database(file, { readonly: true, fileMustExist: true })
  try {
    const verdict = copy.pragma('integrity_check', { simple: true })
    if (verdict !== 'ok') throw new Error(`The copy of the database is damaged: ${String(verdict)}`)
    if ((copy.pragma('foreign_key_check') as unknown[]).length > 0)
      throw new Error('The copy of the database is damaged: rows point nowhere.')
  } finally {
    copy.close()
  }
}
