/** What somebody may be in this house. Everybody who signs in begins as a bidder; the maker gives the other roles. */
export const ROLES = ['maker', 'volunteer', 'treasurer', 'host', 'bidder'] as const
export type Role = (typeof ROLES)[number]

/** Those who help to build and to sell, and who see the bench. */
export const STAFF_ROLES = ['maker', 'volunteer', 'treasurer', 'host'] as const satisfies readonly Role[]

export const isStaff = (role: Role | undefined): boolean => STAFF_ROLES.some((one) => one === role)
