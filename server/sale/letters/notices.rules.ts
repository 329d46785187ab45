import type { notice } from '#db/schema/index'
import { type Instant, MINUTE } from '#kernel/instant'

/** So long is gathered what is told to somebody: what happens within it goes into one letter (common practice). */
export const GATHERED_FOR = 3 * MINUTE

export type NoticeKind = (typeof notice.$inferSelect)['kind']

/** Something to be told to somebody about a lot. */
export interface Notice {
  id: string
  kind: NoticeKind
  lotId: string
  at: Instant
  /** The reason that was given, where there is one. */
  words: string
  /** A device of theirs has told them already. */
  isPushed: boolean
}

/** The lot as it is when the letter is written, for the one who reads it. */
export interface LotOfReader {
  state: string
  leads: boolean
  closesAt: Instant | null
}

/** Of these the latest says it all: how somebody stands, and when the lot closes. The others each tell of something of their own. */
const SAME: Partial<Record<NoticeKind, string>> = {
  ...{ outbid: 'standing', 'bound-again': 'standing', woken: 'standing' },
  ...{ 'fell-through': 'sale', 'stands-again': 'sale' },
  ...{ held: 'clock', 'goes-on': 'clock', moved: 'clock', 'closes-soon': 'clock' },
}

/** In place of a reason: a letter of its own says it already, and only devices are told. */
export const SAID_BY_LETTER = 'said by a letter of its own'

/** Whether what a notice says is still so. What cannot be undone stays true. */
export function stillHolds(kind: NoticeKind, { state, leads, closesAt }: LotOfReader, now: Instant): boolean {
  const isRunning = state === 'open' || state === 'held'
  const isToCome = state === 'open' && closesAt !== null && closesAt > now
  switch (kind) {
    case 'outbid':
      return isRunning && !leads
    case 'bound-again':
      return isRunning && leads
    case 'woken':
      return isRunning
    case 'held':
      return state === 'held'
    case 'goes-on':
    case 'moved':
      return isToCome
    case 'closes-soon':
      return isToCome || (state === 'ready' && closesAt !== null && closesAt > now)
    default:
      return true
  }
}

/**
 * What a letter tells of what happened, in that order: nothing that has stopped being true, of several that say how
 * somebody stands or when a lot closes the latest, and nothing twice. That a lot was won is said by its invoice, and
 * that somebody was outbid not once more where a device has told it.
 */
export function whatToTell<One extends Notice>(notices: readonly One[], lotOf: (lotId: string) => LotOfReader, now: Instant): One[] {
  const told = new Map<string, One>()
  for (const one of notices) {
    if (
      one.kind === 'won' ||
      one.words === SAID_BY_LETTER ||
      (one.kind === 'outbid' && one.isPushed) ||
      !stillHolds(one.kind, lotOf(one.lotId), now)
    )
      continue
    const key = `${one.lotId} ${SAME[one.kind] ?? `${one.kind} ${one.words}`}`
    // A maximum that woke says as well how its bidder stands now.
    if (told.get(key)?.kind === 'woken') continue
    told.delete(key)
    told.set(key, one)
  }
  return [...told.values()]
}
