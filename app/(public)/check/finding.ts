import { type PublicKey, shortKey } from '#bench/certificates/key-set.rules'
import type { History, Receipt } from '#sale/history/history.contract'

/** What was found of one file. The one with a verdict says in a sentence whose it is and whether it is whole. */
export interface Finding {
  tone: 'ok' | 'bad' | 'doubt' | 'info'
  /** Which file it speaks of. */
  about: string
  title: string
  words: string
  isVerdict?: boolean
  /** Where more stands, as the certificate's own page. */
  link?: { href: string; label: string }
  /** A history that holds: its price path can be drawn, and it can be held against another. */
  history?: History
  /** Receipts that hold: they can be held against what the house shows now. */
  receipts?: readonly Receipt[]
}

export interface Chosen {
  name: string
  bytes: Uint8Array
}

export type Value = Record<string, unknown>

/** A key is the house's when the house publishes it now or this browser saw it do so before; never because a file brings it. */
export interface KeysAtHand {
  house: readonly PublicKey[]
  brought: readonly PublicKey[]
}

export type Verdict = Pick<Finding, 'tone' | 'title' | 'isVerdict'>

/** The sentence at the top, one for each outcome. */
export const VERDICTS = {
  ours: (): Verdict => ({ tone: 'ok', title: 'It is this house’s, and whole.', isVerdict: true }),
  /** Nobody signs a file of receipts: each of them is signed, and how many there were nobody can tell from it. */
  oursEach: (): Verdict => ({ tone: 'ok', title: 'Each receipt in it is this house’s, and whole.', isVerdict: true }),
  foreign: (kid: string): Verdict => ({
    tone: 'bad',
    title: `It is whole, but by a key that this house does not name: ${shortKey(kid)} …`,
    isVerdict: true,
  }),
  /** The key is neither the house's nor at hand. */
  stranger: (kid: string | null): Verdict => ({
    tone: 'bad',
    title: `It is by a key that this house does not name${kid === null ? '' : `, ${shortKey(kid)} …`}, and which is not at hand.`,
    isVerdict: true,
  }),
  changed: (where: string): Verdict => ({ tone: 'bad', title: `It was changed: ${lowered(where)}`, isVerdict: true }),
  /** The house signed it, and what it signed is not as its own rules say. */
  wrong: (where: string): Verdict => ({
    tone: 'bad',
    title: `It is this house’s and unchanged, but does not hold by its own rules: ${lowered(where)}`,
    isVerdict: true,
  }),
  nothing: (): Verdict => ({ tone: 'doubt', title: 'There is nothing to check in it.', isVerdict: true }),
  untold: (why: string): Verdict => ({ tone: 'doubt', title: `Whose it is cannot be told here: ${lowered(why)}`, isVerdict: true }),
}

/** As it goes on after a colon: "it has spaces", but serials and the names of entries and bids stay as they are. */
const lowered = (words: string): string =>
  /^(?:(?:Entry|Bid)\b|[A-Z]{2})/.test(words) ? words : words.charAt(0).toLowerCase() + words.slice(1)
