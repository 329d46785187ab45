import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import { idOrNone, text } from '#kernel/text'
import { amount, fromWhom, key, on, reference, why } from '../journal/entry.contract'
import { MATCH_BASES, type MatchBase } from './matching.rules'

export const promiseIn = z.strictObject({
  key,
  from: fromWhom,
  donorId: idOrNone(),
  base: z.enum(MATCH_BASES, 'Choose what is matched.'),
  ratioPercent: text(20, 'That is too long.').min(1, 'Write what is added to each 100.'),
  cap: amount,
})
export type PromiseIn = z.input<typeof promiseIn>

const promiseId = text(80, 'Choose the promise.').min(1, 'Choose the promise.')
export const endPromiseIn = z.strictObject({ promiseId, why })
export type EndPromiseIn = z.input<typeof endPromiseIn>

export const matchReceivedIn = z.strictObject({ key, promiseId, amount, reference, on })
export type MatchReceivedIn = z.input<typeof matchReceivedIn>

/** A promise of matched giving, with what it comes to now. */
export interface PromiseLine {
  id: string
  from: string
  base: MatchBase
  ratioBp: number
  capMinor: Minor
  endedAt: Instant | null
  endedWhy: string
  /** For standing bids; for what is won; sent by the matcher. Each penny in one of them. */
  bidMinor: Minor
  wonMinor: Minor
  receivedMinor: Minor
  /** What the matcher can be asked for now, a part of `wonMinor`. */
  dueMinor: Minor
  isCapped: boolean
}
