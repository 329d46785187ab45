import { ANONYMITIES, type Anonymity, CONSENT_USES, type Consents } from './donor.contract'

/** What deciding about two records of one donor needs to know of each. */
export interface Record {
  name: string
  creditName: string
  sayIt: string
  contact: string
  anonymity: Anonymity
  consents: Consents
  approved: boolean
  /** Stands in for a sender whom nobody knew: was never asked anything, so nothing that it says counts. */
  isStandIn: boolean
}

export interface Merged {
  consents: Consents
  anonymity: Anonymity
  contact: string
  sayIt: string
  /** What changes in the record that is kept, in words; empty when only gifts move. */
  changes: string[]
}

const SHOWN: { [level in Anonymity]: string } = {
  named: 'by their name',
  friend: 'as “a friend”',
  'maker-only': 'not at all; the maker knows',
  unknown: 'not at all',
}
const USED: { [use in keyof Consents]: string } = { page: 'on the page', stream: 'on stream', card: 'on a printed card' }

/** The more hidden of two. */
const stricter = (a: Anonymity, b: Anonymity): Anonymity => (ANONYMITIES.indexOf(a) > ANONYMITIES.indexOf(b) ? a : b)

/**
 * Two records of one donor become one: what `kept` says stays, and where the two differ about being named the
 * stricter wins, use by use. What only `gone` knew, an email address or how the name is said, is taken over.
 */
export function mergeRecords(kept: Record, gone: Record): Merged {
  const consents = { ...kept.consents }
  if (!gone.isStandIn) for (const use of CONSENT_USES) consents[use] = kept.consents[use] && gone.consents[use]
  const anonymity = gone.isStandIn ? kept.anonymity : stricter(kept.anonymity, gone.anonymity)
  const contact = kept.contact || gone.contact
  const sayIt = kept.sayIt || gone.sayIt
  const changes = [
    ...CONSENT_USES.filter((use) => kept.consents[use] && !consents[use]).map(
      (use) => `They will no longer be named ${USED[use]}: the other record does not say they may.`,
    ),
    anonymity === kept.anonymity ? '' : `They will be shown ${SHOWN[anonymity]}, as the other record says.`,
    contact === kept.contact ? '' : `Their email address will be ${contact}.`,
    sayIt === kept.sayIt ? '' : `Their name will be said ${sayIt}.`,
    kept.contact !== '' && gone.contact !== '' && kept.contact.toLowerCase() !== gone.contact.toLowerCase()
      ? `${gone.contact} stays in the record that is merged away; letters go to ${kept.contact}.`
      : '',
  ].filter(Boolean)
  return { consents, anonymity, contact, sayIt, changes }
}

const plain = (text: string): string =>
  text
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()

/** The words of a name in one order, without case and accents: "Berg, Tomás" and "tomas berg" are one. */
export const nameKey = (text: string): string => plain(text).split(' ').sort().join(' ')

/** Records that may be one donor: the same email address, or the same words in another order, case or accent. Never a stand-in. */
export function looksLike(donor: { id: string; name: string; contact: string }, others: readonly (Record & { id: string })[]): string[] {
  return others
    .filter((other) => other.id !== donor.id && !other.isStandIn)
    .filter(
      (other) =>
        (donor.contact !== '' && plain(other.contact) === plain(donor.contact)) ||
        nameKey(other.name) === nameKey(donor.name) ||
        nameKey(other.creditName) === nameKey(donor.name),
    )
    .map(({ id }) => id)
}
