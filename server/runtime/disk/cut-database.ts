import { closeSync, openSync, readSync, statSync } from 'node:fs'

// The beginning of a database as SQLite's file format describes it ("The Database Header"): how long a page is, how many there are, and
// whether that count was written together with the last change.

const HEADER = 100
const LOG_HEADER = 32
const MAGIC = 'SQLite format 3\0'

/**
 * By how many bytes a database is shorter than it says; nought where it is whole, where there is none, or where its log holds what may
 * not have come into it yet.
 */
export function missingBytes(file: string): number {
  const size = statSync(file, { throwIfNoEntry: false })?.size ?? 0
  const logged = statSync(`${file}-wal`, { throwIfNoEntry: false })?.size ?? 0
  if (size < HEADER || logged > LOG_HEADER) return 0
  const header = Buffer.alloc(HEADER)
  const descriptor = openSync(file, 'r')
  try {
    readSync(descriptor, header, 0, HEADER, 0)
  } finally {
    closeSync(descriptor)
  }
  // What is no database at all is told by whoever reads it.
  if (header.toString('latin1', 0, MAGIC.length) !== MAGIC) return 0
  const written = header.readUInt16BE(16)
  const pageBytes = written === 1 ? 65_536 : written
  const isCountRight = header.readUInt32BE(24) === header.readUInt32BE(92)
  const whole = isCountRight ? header.readUInt32BE(28) * pageBytes : Math.ceil(size / pageBytes) * pageBytes
  return Math.max(0, whole - size)
}

/** Throws, in words with what to do, where the end of a database was cut off. Nothing has been changed by then. */
export function refuseCutDatabase(file: string): void {
  const missing = missingBytes(file)
  if (missing === 0) return
  const end = missing === 1 ? 'The last byte of the database is' : `The last ${missing} bytes of the database are`
  throw new Error(
    `${end} missing: the end of ${file} was cut off.\n` +
      'Nothing was changed. Copy the whole folder to another disk first. Then put back the newest copy, from backups or from the copy elsewhere: npm run restore -- folder.',
  )
}
