/**
 * Why a procedure said no to a page; null where it did not, but something broke. Read by name, not by class: the house
 * and the pages are built apart, and each has its own copy of every class.
 */
export function refusalIn(reason: unknown): { code: string; words: string } | null {
  const cause = reason instanceof Error ? reason.cause : undefined
  if (!(cause instanceof Error)) return null
  if (cause.name === 'Refusal' && 'code' in cause) return { code: String(cause.code), words: cause.message }
  // What stands in an address and cannot be a name of anything is the name of nothing.
  if ('issues' in cause) return { code: 'not-found', words: 'There is nothing of that name.' }
  return null
}
