import type { Anonymity, Consents, ConsentUse } from './donor.contract'

/** What the credits need to know of one donor. */
export interface Creditable {
  donorId: string
  creditName: string
  sayIt: string
  anonymity: Anonymity
  approved: boolean
  consents: Consents
}

export interface Credits {
  /** In the order of their names, never by value; each donor once. */
  names: { donorId: string; name: string; sayIt: string }[]
  /** Those who asked to be listed as "a friend". */
  friends: number
  /** Those who are not named here: no consent for this use, not approved yet, or anonymous. */
  unnamed: number
}

const ORDER = new Intl.Collator('en', { sensitivity: 'base' })

/**
 * Who may be named in one use: on the page, on the stream, or on a printed card. Consent counts per use and at
 * this moment, so that withdrawing it takes effect everywhere at once.
 */
export function creditedNames(donors: readonly Creditable[], use: ConsentUse): Credits {
  const each = [...new Map(donors.map((donor) => [donor.donorId, donor])).values()]
  const willing = each.filter((donor) => donor.consents[use] && donor.approved)
  const names = willing
    .filter((donor) => donor.anonymity === 'named')
    .map(({ donorId, creditName, sayIt }) => ({ donorId, name: creditName, sayIt }))
    .sort((a, b) => ORDER.compare(a.name, b.name) || (a.donorId < b.donorId ? -1 : 1))
  const friends = willing.filter((donor) => donor.anonymity === 'friend').length
  return { names, friends, unnamed: each.length - names.length - friends }
}

const FRIENDS = ['', 'a friend', 'two friends', 'three friends', 'four friends', 'five friends']

/** "Ines Abreu, Tomas Berg and a friend"; empty when nobody may be named. */
export function creditLine({ names, friends }: Credits): string {
  const all = [...names.map(({ name }) => name), ...(friends > 0 ? [FRIENDS[friends] ?? `${friends} friends`] : [])]
  return all.length < 2 ? (all[0] ?? '') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`
}
