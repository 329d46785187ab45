/** Where a name would be shown; consent is asked for each. */
export const USES = ['page', 'stream', 'card'] as const
export type Use = (typeof USES)[number]

/** A donor behind a machine, as the credits see them: no amounts, no values, no kinds of gift. */
export interface CreditedDonor {
  donorId: string
  name: string
  sayIt: string | null
  anonymity: 'named' | 'friend' | 'maker-only' | 'unknown'
  isApproved: boolean
  consents: readonly Use[]
}

export interface Credits {
  names: { name: string; sayIt: string | null }[]
  /** How many are listed as "a friend". */
  friends: number
}

/**
 * Who is named for a use: once each, by name, whatever and however much they gave. A name shows only
 * while it is approved and its owner consents to this use; a friend is counted and not named; who is
 * known to the maker alone, or to nobody, is not in it at all.
 */
export function credit(donors: readonly CreditedDonor[], use: Use): Credits {
  const once = [...new Map(donors.map((donor) => [donor.donorId, donor])).values()]
  const names = once
    .filter((donor) => donor.anonymity === 'named' && donor.isApproved && donor.consents.includes(use))
    .map(({ name, sayIt }) => ({ name, sayIt }))
    .sort((a, b) => byName(a.name, b.name))
  return { names, friends: once.filter((donor) => donor.anonymity === 'friend').length }
}

/** "Ada Pell, Bo Ferris, Ines Abreu and two friends", or null when there is nobody to name. */
export function creditSentence(credits: Credits): string | null {
  const parts = credits.names.map(({ name }) => name)
  if (credits.friends > 0) parts.push(friendWords(credits.friends))
  if (parts.length === 0) return null
  const last = parts.at(-1)
  return parts.length === 1 ? (last ?? null) : `${parts.slice(0, -1).join(', ')} and ${last}`
}

const COUNTS = ['no', 'a', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']

export const friendWords = (count: number): string => `${COUNTS[count] ?? count} ${count === 1 ? 'friend' : 'friends'}`

/** One order for every machine and every run: accents and capitals aside, then by the bare letters. */
function byName(a: string, b: string): number {
  const fold = (name: string) => name.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase()
  const [x, y] = [fold(a), fold(b)]
  if (x !== y) return x < y ? -1 : 1
  return a < b ? -1 : a > b ? 1 : 0
}
