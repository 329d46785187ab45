import type { Role } from '#kernel/role'

const PARTS = [
  { href: '/bench/money', label: 'Where it stands', roles: ['treasurer', 'maker', 'host'] },
  { href: '/bench/money/due', label: 'Falls due', roles: ['treasurer', 'maker'] },
  { href: '/bench/money/invoices', label: 'Invoices', roles: ['treasurer', 'maker'] },
  { href: '/bench/money/bank', label: 'Bank', roles: ['treasurer', 'maker'] },
  { href: '/bench/money/in', label: 'Came in', roles: ['treasurer', 'maker'] },
  { href: '/bench/money/out', label: 'Went out', roles: ['treasurer', 'maker'] },
  { href: '/bench/money/journal', label: 'Journal', roles: ['treasurer', 'maker'] },
  { href: '/bench/money/pictures', label: 'Pictures', roles: ['treasurer', 'maker'] },
  { href: '/bench/money/relief', label: 'Tax relief', roles: ['treasurer', 'maker'] },
] as const satisfies readonly { href: string; label: string; roles: readonly Role[] }[]

/** The parts of the books that somebody of a role may open. */
export const bookParts = (role: Role): { href: string; label: string }[] =>
  PARTS.filter(({ roles }) => roles.some((each) => each === role)).map(({ href, label }) => ({ href, label }))
