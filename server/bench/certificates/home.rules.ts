import { halfWidth, readAccuracy } from '../units/accuracy.rules'
import { readEntry } from '../units/entry.rules'
import type { CertificateResult } from './certificates.contract'
import { doubtShort, plain } from './sentences.rules'

/** What a buyer finds at home, held against what the maker found at the bench. Pure: it runs in the buyer's own browser. */

/** Common practice, no source: what the leaflets of cheap hand-held meters say, the worse half of them. */
export const CHEAP_METER = 'V ±(1 % + 3 digits); Ω ±(1.5 % + 5 digits); A ±(2 % + 5 digits)'

export type HomeCheck = Pick<
  CertificateResult,
  'check' | 'title' | 'kind' | 'shown' | 'value' | 'unit' | 'nominal' | 'lower' | 'upper' | 'doubt' | 'plain' | 'verdict' | 'home'
>

/** The same with what there is to beware of. */
export type HomeStep = HomeCheck & Pick<CertificateResult, 'caution'>

export interface FoundAtHome {
  /** As it was read: "8.10 V". */
  shown: string
  value: number | null
  /** Expanded uncertainty (k = 2) of the buyer's meter; null where it has none for this, or none is needed. */
  doubt: number | null
  agrees: boolean
  words: string
}

export type HomeAnswer = { ok: true; found: FoundAtHome } | { ok: false; words: string }

/**
 * Compares one finding. Two readings agree when they differ by no more than both doubts together explain: the
 * root of the sum of their squares (the En number of comparisons between laboratories, at most 1; from memory).
 */
export function compareAtHome(check: HomeCheck, written: string, accuracy: string): HomeAnswer {
  if (check.value === null || check.kind === 'yesno') return comparedWord(check, written)
  const word = written.trim().toLowerCase()
  if (check.home && check.home.signs !== '' && (word === 'yes' || word === 'no')) return withoutMeter(word)
  const unit = check.unit ?? ''
  const read = readEntry(written, unit)
  if (!read.ok) return read
  const { value, resolution, shown } = read.entry
  const doubt = check.kind === 'measure' ? doubtAtHome({ value, resolution, unit }, accuracy) : 0
  if (typeof doubt === 'string') return { ok: false, words: doubt }
  const room = roomOf(check, check.value)
  if (room !== null && doubt > room) return { ok: false, words: tooCoarse(shown, `${doubtShort(doubt)} ${unit}`.trim()) }
  const apart = Math.abs(value - check.value)
  const both = Math.hypot(doubt, check.doubt ?? 0)
  // A hair's breadth of slack: 8.10 − 8.02 is not 0.08 in binary.
  const agrees = apart <= both * (1 + 1e-9)
  return { ok: true, found: { shown, value, doubt, agrees, words: wordsFor({ check, value, apart, both, agrees, unit }) } }
}

/**
 * A doubt wider than this says nothing: the way between the limits or, where there is one alone, from the bench's reading
 * to it or to nought, whichever is more (a good reading may lie right at its limit).
 */
function roomOf({ lower, upper }: HomeCheck, value: number): number | null {
  if (lower !== null && upper !== null) return upper - lower
  const limit = lower ?? upper
  return limit === null ? null : Math.max(Math.abs(value - limit), Math.abs(value))
}

const tooCoarse = (shown: string, doubt: string): string =>
  `Write every digit your meter shows, zeros too: read as ${shown}, it may be off by ${doubt}, which is too coarse to tell anything. If it shows no more, choose a finer range, or leave this line empty.`

function comparedWord(check: HomeCheck, written: string): HomeAnswer {
  const word = written.trim().toLowerCase()
  if (word !== 'yes' && word !== 'no') return { ok: false, words: 'Answer yes or no.' }
  const agrees = word === check.shown.trim().toLowerCase()
  const words = agrees
    ? 'As the maker found it.'
    : `The maker found: ${check.shown}. Look again, and tell the maker if it is still different.`
  return { ok: true, found: { shown: word, value: null, doubt: null, agrees, words } }
}

/** What somebody without a meter found who looked and listened for what the maker says. */
const withoutMeter = (word: 'yes' | 'no'): HomeAnswer => {
  const agrees = word === 'yes'
  const words = agrees
    ? 'As the maker describes it.'
    : 'The maker describes it otherwise. Try it once more, and tell the maker if it is still so.'
  return { ok: true, found: { shown: agrees ? 'as described' : 'not as described', value: null, doubt: null, agrees, words } }
}

/** U = 2a/√3 of a rectangular interval of half-width a (JCGM 100, 4.3.7), or why the meter cannot say. */
function doubtAtHome(reading: { value: number; resolution: number; unit: string }, accuracy: string): number | string {
  const terms = readAccuracy(accuracy)
  if (!terms.ok) return `About your meter: ${terms.words}`
  const half = halfWidth(terms.terms, reading)
  if (half === null) return `The accuracy of your meter does not cover ${reading.unit}. Add it, such as ${reading.unit} ±(2 % + 3 digits).`
  return (2 * half) / Math.sqrt(3)
}

function wordsFor({
  check,
  value,
  apart,
  both,
  agrees,
  unit,
}: {
  check: HomeCheck
  value: number
  apart: number
  both: number
  agrees: boolean
  unit: string
}): string {
  const [difference, doubt] = [doubtShort(apart), doubtShort(both)].map((figure) => `${figure}${unit && ` ${unit}`}`)
  const low = check.lower !== null && value < check.lower
  const high = check.upper !== null && value > check.upper
  const outside =
    low || high
      ? ` It lies ${low ? 'below' : 'above'} the limit of ${plain((low ? check.lower : check.upper) ?? 0)}${unit && ` ${unit}`}.`
      : ''
  if (apart === 0) return 'The same figure as at the bench.'
  if (agrees) return `They agree: ${difference} apart, and the doubt of both meters explains ${doubt}.${outside}`
  return `They differ by ${difference}; the doubt of both meters explains only ${doubt}.${outside} Measure once more, with fresh batteries in the meter; if it stays so, share it with the maker.`
}

const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'

/** Forty bits in eight letters that cannot be taken for one another: "7K3M-Q2XA". */
export function codeOf(bytes: Uint8Array): string {
  let held = 0n
  for (const byte of bytes.subarray(0, 5)) held = (held << 8n) | BigInt(byte)
  const letters = Array.from({ length: 8 }, (_, place) => LETTERS.charAt(Number((held >> BigInt(35 - 5 * place)) & 31n))).join('')
  return `${letters.slice(0, 4)}-${letters.slice(4)}`
}

/** The same however it was copied: small letters, no hyphen, O for 0, I or L for 1. */
export const plainCode = (written: string): string =>
  written
    .toUpperCase()
    .replaceAll(/[^0-9A-Z]/g, '')
    .replaceAll('O', '0')
    .replaceAll(/[IL]/g, '1')
