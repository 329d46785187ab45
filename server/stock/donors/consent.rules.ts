import { CONSENT_USES, type Consents, type ConsentUse } from './donor.contract'
import { listWords } from './gift.rules'

export interface ConsentLine {
  use: ConsentUse
  given: boolean
  at: number
}

/** The latest line of each use counts; a use that was never asked about is not consented to. Lines come in the order they were kept. */
export function consentsNow(lines: readonly ConsentLine[]): Consents {
  const now: Consents = { page: false, stream: false, card: false }
  for (const { use, given } of lines) now[use] = given
  return now
}

const USE_WORDS: Record<ConsentUse, string> = { page: 'on the page', stream: 'on stream', card: 'on a printed card' }

/** "On the page and on stream, yes; on a printed card, no." */
export function consentWords(consents: Consents): string {
  const yes = CONSENT_USES.filter((use) => consents[use]).map((use) => USE_WORDS[use])
  const no = CONSENT_USES.filter((use) => !consents[use]).map((use) => USE_WORDS[use])
  const parts = [yes.length > 0 ? `${listWords(yes, 'and')}, yes` : '', no.length > 0 ? `${listWords(no, 'and')}, no` : ''].filter(Boolean)
  const words = parts.join('; ')
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`
}
