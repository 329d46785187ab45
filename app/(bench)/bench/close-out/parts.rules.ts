import type { Role } from '#kernel/role'

const PARTS = [
  { href: '/bench/close-out', label: 'What is left to do', roles: ['treasurer', 'maker'] },
  { href: '/bench/close-out/statement', label: 'Statement', roles: ['treasurer', 'maker'] },
  { href: '/bench/close-out/donors', label: 'Letters to donors', roles: ['maker'] },
  { href: '/bench/close-out/packs', label: 'Packs', roles: ['treasurer', 'maker'] },
  { href: '/bench/close-out/contacts', label: 'Contact data', roles: ['maker'] },
  { href: '/bench/close-out/years', label: 'What it taught', roles: ['treasurer', 'maker'] },
  { href: '/bench/close-out/next', label: 'The next campaign', roles: ['maker'] },
] as const satisfies readonly { href: string; label: string; roles: readonly Role[] }[]

/** The pages of closing out that a person of this role may open. */
export const closeOutParts = (role: Role): { href: string; label: string }[] =>
  PARTS.filter(({ roles }) => roles.some((each) => each === role)).map(({ href, label }) => ({ href, label }))
