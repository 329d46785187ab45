import type Database from 'better-sqlite3'
import { OPENING, type Part } from './message'
import type { Stream } from './stream'

/** Another machine has written what this one knows nothing of, or the stream is not the one that this house wrote. */
export class Conflict extends Error {}

/** Which steps a database has taken, in short: rows of one version mean nothing to another. A step may come in before the last. */
export const versionOf = (handle: Database.Database): string =>
  inShort(handle.prepare('SELECT name FROM migration ORDER BY name').pluck().all() as string[])

export const inShort = (steps: readonly string[]): string => `${steps.length} steps up to ${steps.at(-1)?.replace('.sql', '') ?? 'none'}`

export interface PlaceInStream {
  stream: string
  number: number
  messageId: string
  aloneSince: number | null
}

/** Where a database stands in the stream, and what of it the stream has not confirmed. */
export interface Place {
  read(): PlaceInStream | null
  move(stream: string, number: number, messageId: string): void
  /** Within a transaction: these are sent next, and those up to `confirmed` need not be kept any more. */
  keep(parts: readonly Part[], confirmed: number): void
  alone(since: number | null): void
  /** Another machine writes since then, as far as this one knows; null when this one does again. */
  overtaken(at: number | null): void
  /** This house is no part of the stream any more. */
  forget(): void
  /** What the stream misses of this database, in order. Throws Conflict, in words, where they do not belong together. */
  compare(stream: Stream): Promise<Part[]>
}

const FRESH = 'Start this one with npm run standby, on a fresh copy of the house.'
/** Of messages that only say that a machine opened, so many are read over. */
const MOST_OPENINGS = 50
const MOST_TRIES = 5

export function openPlace(handle: Database.Database): Place {
  const row = handle.prepare('SELECT stream, number, message_id AS messageId, alone_since AS aloneSince FROM published_group')
  const put = handle.prepare(
    `INSERT INTO published_group (id, stream, number, message_id) VALUES (1, ?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET stream = excluded.stream, number = excluded.number, message_id = excluded.message_id`,
  )
  const since = handle.prepare(
    `INSERT INTO published_group (id, stream, number, message_id, alone_since) VALUES (1, '', 0, '', ?)
     ON CONFLICT (id) DO UPDATE SET alone_since = excluded.alone_since`,
  )
  const overtaken = handle.prepare(
    `INSERT INTO published_group (id, stream, number, message_id, overtaken_at) VALUES (1, '', 0, '', ?)
     ON CONFLICT (id) DO UPDATE SET overtaken_at = excluded.overtaken_at`,
  )
  const unconfirmed = handle.prepare('SELECT number, message_id AS messageId, part, body FROM unconfirmed_message ORDER BY number')
  const insert = handle.prepare('INSERT INTO unconfirmed_message (number, message_id, part, body) VALUES (?, ?, ?, ?)')
  const forget = handle.prepare('DELETE FROM unconfirmed_message WHERE number <= ?')
  const forgetAll = handle.prepare('DELETE FROM unconfirmed_message')
  const read = () => (row.get() as PlaceInStream | undefined) ?? null
  const move = (stream: string, number: number, messageId: string) => void put.run(stream, number, messageId)

  return {
    read,
    move,
    keep(parts, confirmed) {
      forget.run(confirmed)
      for (const { number, messageId, part, body } of parts) insert.run(number, messageId, part, body)
      const last = parts.at(-1)
      if (last) move(read()?.stream ?? '', last.number, last.messageId)
    },
    alone: (at) => void since.run(at),
    overtaken: (at) => void overtaken.run(at),
    forget: () => handle.exec('DELETE FROM published_group; DELETE FROM unconfirmed_message; DELETE FROM changed_row'),
    async compare(stream) {
      const known = read()
      const { last } = await stream.state()
      if (last === 0 && known?.stream !== stream.made) {
        // Nobody has written to it: it begins with this house as it is now, and so does every copy.
        forgetAll.run()
        move(stream.made, 0, '')
        return []
      }
      if (!known || known.stream !== stream.made)
        throw new Conflict(
          `Another machine has written to the stream of this house, and nothing of that is here. ${FRESH} Where this house was put in its place on purpose and no other machine writes: npm start -- --begin-anew.`,
        )
      const kept = unconfirmed.all() as Part[]
      const mine = new Map(kept.map((part) => [part.number, part]))
      if (last > known.number) {
        await onlyOpenings(stream, known.number, last)
        const stands = known.number === 0 ? null : await stream.read(known.number)
        if (stands && stands.messageId !== known.messageId) throw new Conflict(inConflict(known, last, kept))
        const newest = await stream.read(last)
        forgetAll.run()
        move(stream.made, last, newest?.messageId ?? '')
        return []
      }
      const first = kept[0]?.number ?? known.number + 1
      if (last < Math.min(first - 1, known.number))
        throw new Conflict(
          `The stream ends at message ${last}, and had confirmed more: it was put back from an older copy of NATS. Nothing was changed. Where no other machine writes: npm start -- --begin-anew, and a fresh copy for the one that stands by.`,
        )
      const stands = last === 0 ? null : await stream.read(last)
      const asKnown = mine.get(last)?.messageId ?? (last === known.number ? known.messageId : undefined)
      if (stands && asKnown !== undefined && stands.messageId !== asKnown) throw new Conflict(inConflict(known, last, kept))
      return kept.filter(({ number }) => number > last)
    },
  }
}

/** Sends a message until it stands in its place. Throws Conflict where another stands there. */
export async function standsIn(stream: Stream, part: Part): Promise<void> {
  for (let tries = 0; ; tries++) {
    try {
      await stream.publish(part)
      return
    } catch (reason) {
      // Its answer may have been lost, or another may have come first.
      const { last } = await stream.state()
      const stands = last < part.number ? null : await stream.read(part.number)
      if (stands && stands.messageId === part.messageId && stands.part === part.part) return
      if (stands) throw new Conflict(elsewhereWords(part.number - 1, last))
      if (tries >= MOST_TRIES) throw reason
    }
  }
}

/** Messages that say who opened change no row: a house that misses only these has missed nothing. */
async function onlyOpenings(stream: Stream, number: number, last: number): Promise<void> {
  for (let at = number + 1; at <= last; at++) {
    const part = last - number > MOST_OPENINGS ? null : await stream.read(at)
    if (part?.part !== OPENING) throw new Conflict(elsewhereWords(number, last))
  }
}

/** What is said to a machine that has been overtaken. */
export const elsewhereWords = (number: number, last: number): string =>
  `Another machine has written for this house since: the stream is at message ${last}, and this one left it at ${number}. ${FRESH} Where an older copy was put back on purpose and no other machine writes: npm start -- --begin-anew.`

/** What of a folder never got there, and whether anybody was told that it counts. */
function inConflict(known: PlaceInStream, last: number, kept: readonly Part[]): string {
  const lost = kept.length === 1 ? 'One message' : `${kept.length} messages`
  const told =
    known.aloneSince === null
      ? 'nobody was told that it counts'
      : `it was answered while this house went on alone since ${new Date(known.aloneSince).toISOString()}, and contradicts what the other machine did`
  const words = elsewhereWords(known.number, last)
  return kept.length === 0
    ? words
    : `${words} ${lost} of this folder never got there: ${told}. Keep this folder until that has been looked at.`
}
