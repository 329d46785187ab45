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

interface BenchPlace extends NavPlace {
  /** Whose work it is; the maker's is all of it. */
  roles: readonly Role[]
}

const BENCH_PLACES: readonly BenchPlace[] = [
  { href: '/bench', label: 'Rack', roles: ['volunteer', 'treasurer', 'host'] },
  { href: '/bench/parcels', label: 'Parcels', roles: ['volunteer'] },
  { href: '/bench/donors', label: 'Donors', roles: ['volunteer'] },
  { href: '/bench/parts', label: 'Parts', roles: ['volunteer'] },
  { href: '/bench/designs', label: 'Designs', roles: [] },
  { href: '/bench/lots', label: 'Lots', roles: ['host', 'treasurer'] },
  { href: '/bench/programme', label: 'Programme', roles: ['host'] },
  { href: '/bench/money', label: 'Money', roles: ['treasurer', 'host'] },
  { href: '/bench/sending', label: 'Sending', roles: ['volunteer', 'treasurer'] },
  { href: '/bench/close-out', label: 'Close out', roles: ['treasurer'] },
  { href: '/bench/outbox', label: 'Outbox', roles: [] },
  { href: '/bench/house', label: 'House', roles: [] },
  { href: '/bench/people', label: 'People', roles: [] },
  { href: '/bench/record', label: 'Changes', roles: ['treasurer'] },
  { href: '/bench/campaign', label: 'Campaign', roles: [] },
]

/** The staff's places in the order of the work. Permission is decided by each page; this only spares walks that end at a door. */
export const benchPlaces = (role: Role): NavPlace[] =>
  BENCH_PLACES.filter(({ roles }) => role === 'maker' || roles.includes(role)).map(({ href, label }) => ({ href, label }))

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
