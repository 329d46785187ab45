import { readFileSync, statSync } from 'node:fs'

// The log in front of a database, as SQLite's file format describes it ("The Write-Ahead Log"). SQLite itself reads it up to the first
// frame that does not check, and takes the rest for what a power cut tore; so a byte that turned would take whatever was stored after it.

const HEADER = 32
const FRAME_HEADER = 24
const MAGIC = 0x377f0682

export interface DamagedLog {
  /** The first frame that does not check; 0 where it is the beginning of the log. */
  frame: number
  /** How often something was stored after it. */
  commits: number
}

/**
 * Where a log is damaged, so that what was stored after it would be lost without a word; null where it is whole, or where only its last
 * commit does not check: a write that was torn, of which nobody has been told, looks just so.
 */
export function damageOfLog(file: string): DamagedLog | null {
  const size = statSync(file, { throwIfNoEntry: false })?.size ?? 0
  if (size <= HEADER + FRAME_HEADER) return null
  const log = readFileSync(file)
  const magic = log.readUInt32BE(0)
  const isBigEndian = magic === MAGIC + 1
  const sum = sumOf(log, isBigEndian)
  const pageBytes = log.readUInt32BE(8)
  const begun = sum(0, 24, [0, 0])
  if ((magic !== MAGIC && !isBigEndian) || begun[0] !== log.readUInt32BE(24) || begun[1] !== log.readUInt32BE(28))
    return { frame: 0, commits: 1 }
  const frameBytes = FRAME_HEADER + pageBytes
  let [sums, frame, bad, commits] = [begun, 0, 0, 0]
  for (let at = HEADER; at + frameBytes <= size; at += frameBytes) {
    frame += 1
    const isOfThisLog = log.compare(log, 16, 24, at + 8, at + 16) === 0
    if (bad === 0) {
      sums = sum(at + FRAME_HEADER, pageBytes, sum(at, 8, sums))
      if (isOfThisLog && sums[0] === log.readUInt32BE(at + 16) && sums[1] === log.readUInt32BE(at + 20)) continue
      bad = frame
    }
    const isCommit = log.readUInt32BE(at + 4) > 0
    if (isOfThisLog && isCommit) commits += 1
  }
  return commits > 1 ? { frame: bad, commits } : null
}

type Sums = readonly [number, number]

/** SQLite's checksum over some bytes, a multiple of eight, continued from what came before. */
function sumOf(log: Buffer, isBigEndian: boolean) {
  const word = isBigEndian ? (at: number) => log.readUInt32BE(at) : (at: number) => log.readUInt32LE(at)
  return (from: number, bytes: number, [before0, before1]: Sums): Sums => {
    let [sum0, sum1] = [before0, before1]
    for (let at = from; at < from + bytes; at += 8) {
      sum0 = (sum0 + word(at) + sum1) >>> 0
      sum1 = (sum1 + word(at + 4) + sum0) >>> 0
    }
    return [sum0, sum1]
  }
}

/** Throws, in words with what to do, where the log of a database is damaged. Nothing has been changed by then. */
export function refuseDamagedLog(file: string, mayBeLost: boolean, warn: (words: string) => void): void {
  const damage = damageOfLog(`${file}-wal`)
  if (!damage) return
  const place = damage.frame === 0 ? 'at its beginning' : `at frame ${damage.frame}`
  const lost = damage.frame === 0 ? 'all that stands in it' : `what was stored in the ${damage.commits} steps from there on`
  const words = `The log of the database, ${file}-wal, is damaged ${place}: ${lost} cannot be read, answered bids perhaps among it.`
  if (mayBeLost) {
    warn(`${words} The house goes on without it, as it was told to.`)
    return
  }
  throw new Error(
    `${words}\nNothing was changed. Copy the whole folder to another disk first. Then put back the newest copy, from backups or from the copy elsewhere: npm run restore -- folder. ` +
      'To go on without what cannot be read, start with --lose-the-damaged-log; whoever was told that it was stored has to be written to.',
  )
}
