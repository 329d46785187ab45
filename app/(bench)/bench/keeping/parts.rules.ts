import type { Role } from '#kernel/role'

const PARTS = [
  { href: '/bench/keeping', label: 'What is left to do', roles: ['treasurer', 'maker'] },
  { href: '/bench/keeping/statement', label: 'Statement', roles: ['treasurer', 'maker'] },
  { href: '/bench/keeping/donors', label: 'Letters to donors', roles: ['maker'] },
  { href: '/bench/keeping/packs', label: 'Packs', roles: ['treasurer', 'maker'] },
  { href: '/bench/keeping/contacts', label: 'Contact data', roles: ['maker'] },
] as const satisfies readonly { href: string; label: string; roles: readonly Role[] }[]

/** The parts of closing the books that somebody of a role may open. */
export const keepingParts = (role: Role): { href: string; label: string }[] =>
  PARTS.filter(({ roles }) => roles.some((each) => each === role)).map(({ href, label }) => ({ href, label }))
