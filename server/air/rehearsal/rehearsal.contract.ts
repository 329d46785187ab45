import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'

/** What may go wrong, at a press. */
export const TROUBLES = {
  'guest-late': 'A guest is late',
  'stream-lost': 'The stream is lost',
  killed: 'The process is killed',
  burst: 'A burst of bids',
} as const
export type Trouble = keyof typeof TROUBLES

/** How many times faster than the wall a rehearsal's clock runs. */
export const PACES = [1, 10, 60, 300] as const
export const FASTEST = 600

export const causeIn = z.strictObject({
  trouble: z.enum(Object.keys(TROUBLES) as [Trouble, ...Trouble[]], 'Choose what goes wrong.'),
  /** Whether the host deals with it, or the rehearsal does by itself. */
  answer: z.enum(['host', 'itself']).default('itself'),
})
export const paceIn = z.strictObject({ pace: z.int().min(1, 'At least once.').max(FASTEST, `At most ${FASTEST} times.`) })
export const enterIn = z.strictObject({ pass: text(300, 'That is not the address of a rehearsal.') })

export type Note =
  | { kind: 'planned'; lot: number; at: Instant }
  | { kind: 'cue'; lot: number; cue: string }
  | { kind: 'bid'; lot: number }
  | { kind: 'refused'; lot: number; words: string }
  | { kind: 'news'; at: Instant; words: string }
  | { kind: 'trouble'; trouble: Trouble }
  /** What the rehearsal had to leave out, or to invent so that it need not. */
  | { kind: 'left'; words: string }

export interface RehearsalReport {
  from: Instant
  to: Instant
  lots: { lot: number; plannedAt: Instant; endedAt: Instant; lateMs: number; missedCues: string[] }[]
  /** Two lots of which the first ran into the ten minutes of the second, and by how much. */
  collisions: { lot: number; into: number; byMs: number }[]
  /** By how much the last minutes ran beyond the end of the stream; 0 when they did not. */
  overMs: number
  bids: number
  refused: { words: string; times: number }[]
  /** What went wrong on purpose, and what never did. */
  tried: Trouble[]
  untried: Trouble[]
  left: string[]
  news: { at: Instant; words: string }[]
}

export type RehearsalView =
  /** The house itself, with the rehearsal of it that runs beside it. */
  | {
      is: 'house'
      state: 'none' | 'opening' | 'open' | 'over' | 'failed'
      /** Opens it to whoever reads this, and to nobody as anybody else. Empty where none runs. */
      address: string
      report: RehearsalReport | null
      zone: string
    }
  /** The rehearsal. */
  | { is: 'rehearsal'; now: Instant; pace: number; news: { at: Instant; words: string }[]; report: RehearsalReport | null; zone: string }

/** What the processes tell each other. */
export type FromHouse =
  | { tell: 'open' }
  | { tell: 'pace'; pace: number; at: Instant }
  | { tell: 'kill'; at: Instant }
  | { tell: 'over'; report: RehearsalReport }
export type FromRehearsal =
  | { tell: 'open'; url: string; key: string }
  | { tell: 'over'; report: RehearsalReport }
  | { tell: 'failed'; words: string }
