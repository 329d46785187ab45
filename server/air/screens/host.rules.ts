import { type Instant, MINUTE } from '#kernel/instant'
import type { LateBid } from '#sale/price/late-bid.rules'
import { soldWords } from '#sale/price/result.rules'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import { AFTER_CLOSING, BEFORE_CLOSING, isElsewhere, nowAndNext, overTime } from '#sale/programme/programme.rules'
import { type Cue, cueFor } from './cues.rules'

/** What a screen on air needs to know of a lot; each part of it is public. */
export interface AirLot {
  number: number
  title: string
  unit: string
  state: string
  standingMinor: number | null
  bids: number
  reserve: 'none' | 'unreached' | 'reached'
  closesAt: Instant | null
  heldSince: Instant | null
  lateBid: LateBid
  endedAt: Instant | null
  hammerMinor: number | null
  standsMinor?: number
  /** Its bids are taken under another address, and nobody here knows of them. */
  isSoldElsewhere?: boolean
}

/** The shortest time for which a result stays, even when the next closing has begun. */
const RESULT_STAYS = MINUTE

export interface AirView {
  /** The lot whose moment it is: about to close, closing, or just closed; else the next that will. */
  lot: AirLot | null
  cue: Cue | null
  /** Guests and breaks that are on. */
  on: ProgrammeItem[]
  next: ProgrammeItem[]
  /** Milliseconds behind the programme; below zero is ahead. */
  over: number
}

const ENDED = ['sold', 'unsold', 'withdrawn']

/** What is on air at an instant, from the day's items and its lots. */
export function viewAt(items: readonly ProgrammeItem[], lots: readonly AirLot[], now: Instant): AirView {
  const { now: on, next } = nowAndNext(items, now)
  const item = momentOf(items, lots, now)
  const found = lots.find(({ number }) => number === item?.lot)
  const lot = found ? { ...found, isSoldElsewhere: item?.isSoldElsewhere } : null
  const closesAt = lot?.closesAt ?? item?.runsTo ?? null
  const cue = lot && closesAt !== null ? cueFor({ now, closesAt, isClosed: ENDED.includes(lot.state), isHeld: lot.state === 'held' }) : null
  return {
    lot,
    cue,
    on: on.filter(({ kind }) => kind !== 'closing'),
    // A closing may come into the minutes of the one before it, and comes next all the same.
    next: [...on.filter(({ kind }) => kind === 'closing'), ...next].filter(({ id }) => id !== item?.id),
    over: overTime(items, now),
  }
}

function momentOf(items: readonly ProgrammeItem[], lots: readonly AirLot[], now: Instant): ProgrammeItem | null {
  const closings = items.filter(({ kind }) => kind === 'closing')
  const endedAt = (item: ProgrammeItem) => lots.find(({ number }) => number === item.lot)?.endedAt ?? null
  const justClosed = closings
    .filter((item) => item.isOver && (endedAt(item) ?? 0) + AFTER_CLOSING > now)
    .sort((a, b) => (endedAt(b) ?? 0) - (endedAt(a) ?? 0))[0]
  const waiting = closings.filter((item) => !item.isOver && !isElsewhere(item, now)).sort((a, b) => a.runsTo - b.runsTo)
  const first = waiting[0] ?? null
  const hasBegun = first !== null && first.runsTo - BEFORE_CLOSING <= now
  if (justClosed && (!hasBegun || (endedAt(justClosed) ?? 0) + RESULT_STAYS > now)) return justClosed
  return first
}

/** "Sold for £165.00", "Not sold: the reserve was not reached", said once the house has said it. */
export function resultWords(lot: AirLot, show: (minor: number) => string): string {
  if (lot.state === 'sold' && lot.hammerMinor !== null) return soldWords(lot, show)
  if (lot.state === 'withdrawn') return 'Withdrawn: nobody wins it'
  if (lot.isSoldElsewhere) return 'Not sold'
  return lot.bids > 0 && lot.reserve === 'unreached' ? 'Not sold: the reserve was not reached' : 'Not sold: there was no bid'
}

/** The figure beside the countdown and the words below it; once the lot has closed, what became of it. */
export function figureWords(lot: AirLot, isOver: boolean, show: (minor: number) => string): { figure: string; below: string } {
  if (!isOver && lot.isSoldElsewhere) return { figure: 'elsewhere', below: 'its bids are not seen here' }
  if (!isOver) return { figure: lot.standingMinor === null ? 'no bid' : show(lot.standingMinor), below: bidWords(lot) }
  if (lot.hammerMinor !== null) return { figure: show(lot.hammerMinor), below: 'hammer price' }
  if (lot.state === 'withdrawn') return { figure: 'withdrawn', below: 'nobody wins it' }
  if (lot.isSoldElsewhere) return { figure: 'not sold', below: 'so it ended elsewhere' }
  return { figure: 'not sold', below: lot.bids > 0 && lot.reserve === 'unreached' ? 'the reserve was not reached' : 'there was no bid' }
}

/** What a lot of the day stands at, in a few words: "£165, 11 bids", "sold elsewhere", or what became of it. */
export function standsWords(item: Pick<ProgrammeItem, 'isOver' | 'isSoldElsewhere'>, lot: AirLot, show: (minor: number) => string): string {
  if (item.isOver) return resultWords({ ...lot, isSoldElsewhere: item.isSoldElsewhere }, show)
  if (item.isSoldElsewhere) return 'sold elsewhere: its bids are not seen here'
  if (lot.standingMinor === null || lot.bids === 0) return 'no bid yet'
  return `${show(lot.standingMinor)}, ${lot.bids === 1 ? 'one bid' : `${lot.bids} bids`}`
}

/** An item as a list of what comes next calls it: a guest as a guest, a lot that is sold elsewhere with that. */
export const comingWords = ({ kind, title, isSoldElsewhere }: Pick<ProgrammeItem, 'kind' | 'title' | 'isSoldElsewhere'>): string =>
  kind === 'guest' ? `guest: ${title}` : isSoldElsewhere ? `${title} (sold elsewhere)` : title

function bidWords({ bids, reserve }: AirLot): string {
  const count = bids === 1 ? 'one bid' : `${bids} bids`
  return reserve === 'none' ? count : `${count}, reserve ${reserve === 'reached' ? 'reached' : 'not reached'}`
}
