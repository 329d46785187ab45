import type { Role } from '#kernel/role'

export interface NavPlace {
  href: string
  label: string
}

export const PUBLIC_PLACES: readonly NavPlace[] = [
  { href: '/', label: 'Lots' },
  { href: '/programme', label: 'Programme' },
  { href: '/wanted', label: 'Wanted' },
  { href: '/credits', label: 'Credits' },
]

/** The parts of the work in the order in which it flows, and the house around it. */
export const WORK = ['gifts', 'bench', 'sale', 'money', 'end', 'house'] as const
export type Work = (typeof WORK)[number]

interface BenchPlace extends NavPlace {
  of: Work
  /** Whose work it is; the maker's is all of it. */
  roles: readonly Role[]
}

const BENCH_PLACES: readonly BenchPlace[] = [
  { of: 'bench', href: '/bench', label: 'Rack', roles: ['volunteer', 'treasurer', 'host'] },
  { of: 'gifts', href: '/bench/parcels', label: 'Parcels', roles: ['volunteer'] },
  { of: 'gifts', href: '/bench/donors', label: 'Donors', roles: ['volunteer'] },
  { of: 'gifts', href: '/bench/parts', label: 'Parts', roles: ['volunteer'] },
  { of: 'bench', href: '/bench/designs', label: 'Designs', roles: [] },
  { of: 'sale', href: '/bench/lots', label: 'Lots', roles: ['host', 'treasurer'] },
  { of: 'sale', href: '/bench/programme', label: 'Programme', roles: ['host'] },
  { of: 'money', href: '/bench/money', label: 'Money', roles: ['treasurer', 'host'] },
  { of: 'money', href: '/bench/sending', label: 'Sending', roles: ['volunteer', 'treasurer'] },
  { of: 'end', href: '/bench/close-out', label: 'Close out', roles: ['treasurer'] },
  { of: 'end', href: '/bench/outbox', label: 'Outbox', roles: [] },
  { of: 'house', href: '/bench/house', label: 'House', roles: [] },
  { of: 'house', href: '/bench/people', label: 'People', roles: [] },
  { of: 'house', href: '/bench/record', label: 'Changes', roles: ['treasurer'] },
  { of: 'house', href: '/bench/campaign', label: 'Campaign', roles: [] },
]

/** The staff's places in the order of the work. Permission is decided by each page; this only spares walks that end at a door. */
export const benchPlaces = (role: Role): NavPlace[] =>
  BENCH_PLACES.filter(({ roles }) => role === 'maker' || roles.includes(role)).map(({ href, label }) => ({ href, label }))

/** The same places, part by part of the work; a part of which nothing is theirs is left out. */
export const benchGroups = (role: Role): { work: Work; places: NavPlace[] }[] =>
  WORK.map((work) => {
    const own = BENCH_PLACES.filter(({ of, roles }) => of === work && (role === 'maker' || roles.includes(role)))
    return { work, places: own.map(({ href, label }) => ({ href, label })) }
  }).filter(({ places }) => places.length > 0)

/** How many places stand at the thumb on a phone; the rest are behind "More". */
export const AT_THE_THUMB = 4

export function atTheThumb(places: readonly NavPlace[]): { first: NavPlace[]; more: NavPlace[] } {
  // Five fit: only when there are more does the fifth make way for "More".
  const first = places.length <= AT_THE_THUMB + 1 ? places.length : AT_THE_THUMB
  return { first: places.slice(0, first), more: places.slice(first) }
}

/** True at that place and below it; the two roots only when exactly there. */
export function isHere(path: string, href: string): boolean {
  if (href === '/') return path === '/' || path.startsWith('/lots/')
  if (href === '/bench') return path === '/bench' || path.startsWith('/bench/units')
  return path === href || path.startsWith(`${href}/`)
}
