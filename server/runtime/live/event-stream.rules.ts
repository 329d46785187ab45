import type { Instant } from '#kernel/instant'

/** What a page had last, as it says when it comes back. */
export interface LastSeen {
  /** Of which count the number is; empty for one that names none. */
  epoch: string
  /** Up to which fact of that count it misses nothing. */
  seq: number
}

/** A state as it goes into event streams, made once for all. */
export interface StateEvent {
  upTo: number
  /** With the number that its reader comes back with. */
  numbered: Buffer
  /** Without: the reader keeps the number that it had. */
  bare: Buffer
}

/**
 * Numbers are those of facts, and a house that is opened from an earlier copy of itself gives some of them a second time. So each opening has
 * a word of its own, and its numbers count with that word alone.
 */
const numberLine = (epoch: string, upTo: number): string => `id: ${epoch}.${upTo}\n`

export function stateEvent(epoch: string, topic: string, { data, upTo }: { data: string; upTo: number }): StateEvent {
  const line = numberLine(epoch, upTo)
  const numbered = Buffer.from(`${line}event: ${topic}\ndata: ${data}\n\n`)
  return { upTo, numbered, bare: numbered.subarray(Buffer.byteLength(line)) }
}

/**
 * Several states in one write for a reader who misses nothing up to `had`, and up to which fact it misses nothing then. The number stands at the
 * last of them, so that a line which breaks off before it has promised nothing, and it never goes back.
 */
export function inOneWrite(events: readonly StateEvent[], had: number, epoch: string): { upTo: number; frames: Buffer } | null {
  const last = events.at(-1)
  if (!last) return null
  const upTo = Math.max(had, ...events.map((event) => event.upTo))
  if (events.length === 1) return { upTo, frames: upTo > had ? last.numbered : last.bare }
  const number = upTo > had ? [Buffer.from(numberLine(epoch, upTo))] : []
  return { upTo, frames: Buffer.concat([...events.slice(0, -1).map(({ bare }) => bare), ...number, last.bare]) }
}

/** What `Last-Event-ID` says; null for a page that comes for the first time, and for what no house has given. */
export function lastSeenIn(header: string | string[] | undefined): LastSeen | null {
  const [, epoch = '', digits] = /^(?:([\w-]{1,40})\.)?(\d{1,15})$/.exec(String(header ?? '')) ?? []
  return digits === undefined ? null : { epoch, seq: Number(digits) }
}

export const beatEvent = (says: { serverNow: Instant; trouble: string | null }): Buffer =>
  Buffer.from(`event: beat\ndata: ${JSON.stringify(says)}\n\n`)

/** Where the count began anew no number of before is kept: a page that comes back before it has another one is brought all. */
export const helloEvent = (says: { stream: string; build: string | undefined; isAnew: boolean }): Buffer =>
  Buffer.from(`${says.isAnew ? 'id: 0\n' : ''}event: hello\ndata: ${JSON.stringify(says)}\n\n`)

/** When to come back, in milliseconds. */
export const retryLine = (ms: number): string => `retry: ${Math.round(ms)}\n`
