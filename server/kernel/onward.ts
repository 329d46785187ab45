const MOST = 1000

/**
 * Where a page may lead on to, out of an address that anybody can write (`?next=`): a path of this house, or null. What
 * counts is what a browser would make of it, so it is parsed as a browser does and compared with the house's own origin,
 * and then once more as it will be used: `/.//elsewhere.example` is a path of ours that names another house when it is
 * followed. A tab, a line break or a backslash stands in no link of ours; browsers drop the one and turn the other.
 */
export function onwardPath(next: unknown, publicUrl: string): string | null {
  if (typeof next !== 'string' || next.length > MOST || !next.startsWith('/') || /[\s\\\p{Cc}]/u.test(next)) return null
  const first = ours(next, publicUrl)
  return first !== null && ours(first, publicUrl) === first ? first : null
}

function ours(path: string, publicUrl: string): string | null {
  if (!URL.canParse(path, publicUrl)) return null
  const { origin, pathname, search, hash, username, password } = new URL(path, publicUrl)
  const isOurs = origin === new URL(publicUrl).origin && username === '' && password === ''
  return isOurs && !pathname.startsWith('//') ? `${pathname}${search}${hash}` : null
}
