import { sizeInWords, spanInWords } from './in-words.rules'
import type { Finding, Standing } from './vital'

const MEGABYTE = 1024 ** 2
const HOUR = 3_600

/** Photographs are refused below 64 MB; with this much there is still time to act. */
export const LEAST_ROOM = 128 * MEGABYTE
const LITTLE_ROOM = 1024 * MEGABYTE

export interface RoomAt {
  /** In seconds, of a clock that only goes on. */
  at: number
  free: number
}

/** Less than this says nothing about the rate: a log that is turned over is enough. */
const SHORTEST_RATE = 600
const LEAST_RATE = 10 * MEGABYTE

/** By how many bytes an hour the disk fills; null where what was seen is too short or too little to say. */
export function fillingRate(seen: readonly RoomAt[]): number | null {
  const first = seen[0]
  const last = seen.at(-1)
  if (!first || !last || last.at - first.at < SHORTEST_RATE) return null
  const rate = ((first.free - last.free) / (last.at - first.at)) * HOUR
  return rate >= LEAST_RATE ? rate : null
}

export function judgeRoom(free: number, rate: number | null): Finding {
  const left = rate === null ? null : free / rate
  const standing: Standing =
    free < LEAST_ROOM || (left !== null && left < 1) ? 'bad' : free < LITTLE_ROOM || (left !== null && left < 12) ? 'look' : 'good'
  const lasts = left === null ? '' : ` As fast as it fills at present, that lasts for ${spanInWords(left * HOUR)}.`
  return {
    value: free,
    standing,
    words: `${sizeInWords(free)} are free on the disk of the data folder.${lasts}`,
    toDo:
      standing === 'good'
        ? null
        : 'Make room: remove copies and packs from this disk that you also have elsewhere, and see what else fills it. Never delete the database or what is beside it.',
    also:
      left === null
        ? []
        : [{ key: 'disk-lasts', unit: 'seconds', help: 'For how long the room lasts as fast as it fills at present.', value: left * HOUR }],
  }
}

/** The log of the database is emptied into it at four megabytes, unless somebody still reads what it was. */
export const LOG_STEPS = { look: 64 * MEGABYTE, bad: 512 * MEGABYTE }

export function judgeLog(bytes: number, heldBy: readonly string[]): Finding {
  const standing: Standing = bytes > LOG_STEPS.bad ? 'bad' : bytes > LOG_STEPS.look ? 'look' : 'good'
  const who = heldBy.length === 0 ? '' : ` It cannot be emptied while this still reads: ${heldBy.join('; ')}.`
  return {
    value: bytes,
    standing,
    words: `The database’s log is ${sizeInWords(bytes)} long.${who}`,
    toDo: standing === 'good' ? null : 'Stop whatever reads the database for so long. The log then shrinks by itself.',
  }
}
