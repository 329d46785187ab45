import type { Check, DecisionRule } from '../designs/design.contract'
import type { SoakSeen } from './soak.rules'
import type { Verdict } from './verdict.rules'

export interface Taken {
  check: Check
  rule: DecisionRule
  /** As typed; for a match of a file, its SHA-256. */
  entry: string
  instrument: { name: string; accuracy: string } | null
  /** Which was meant, when a reading is off by about a thousand. */
  confirmThousand?: 'as-written' | 'shifted' | undefined
  /** Said that a reading which is hardly what the meter showed is what it showed. */
  confirmOdd?: boolean | undefined
  /** What else makes it doubtful, as written: "probe 1 %; leads 0.02 V". */
  further?: string | undefined
  hours?: string | undefined
  starts?: string | undefined
  /** Of a soak: what the house saw of it; null where it saw none. */
  soakSeen?: SoakSeen | null | undefined
  /** Of a soak that ran elsewhere: its hours and cold starts are those that were written down. */
  isStated?: boolean | undefined
}

export interface Judged {
  entry: string
  value: number
  standardUncertainty: number | null
  expandedUncertainty: number | null
  conformity: number | null
  verdict: Verdict
  fileSha: string | null
  hours: number | null
  starts: number | null
}

export type Judgement = { ok: true; judged: Judged } | { ok: false; field: string; words: string }

export const refuse = (field: string, words: string) => ({ ok: false, field, words }) as const
export const no: (field: string, words: string) => Judgement = refuse

export const plain = (entry: string, value: number, verdict: Verdict): Judged => ({
  entry,
  value,
  standardUncertainty: null,
  expandedUncertainty: null,
  conformity: null,
  verdict,
  fileSha: null,
  hours: null,
  starts: null,
})
