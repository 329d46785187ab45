import { createHmac, timingSafeEqual } from 'node:crypto'
import type { Db } from '#db/open'
import type { Instant } from '#kernel/instant'
import type { Actor } from '#runtime/queue/turn'

// The sign-in library moves a session's end on once a day; what is older than this goes its way, so that it can.
const FRESH_MS = 23 * 3_600_000

const REMEMBERED = 10_000

/**
 * Who a session cookie belongs to, by one prepared query: a bid cannot wait for the library's own look-up,
 * which takes longer than all the rest of a bid. The signature is checked as the library does (HMAC-SHA-256 of
 * the token); a session that was closed, has ended or belongs to nobody is null; one that the library wants to
 * renew is left to it. The row is read each time, so closing a session or changing a role holds at once.
 */
export function openSessionLookUp(db: Db, secret: string, { publicUrl, cookiePrefix }: { publicUrl: string; cookiePrefix: string }) {
  const name = `${publicUrl.startsWith('https:') ? '__Secure-' : ''}${cookiePrefix}.session_token`
  const opened = db.$client.prepare<[string], Actor & { expiresAt: Instant; updatedAt: Instant }>(
    `SELECT person.id AS personId, person.name, person.email, person.role, session.expires_at AS expiresAt, session.updated_at AS updatedAt
     FROM session JOIN person ON person.id = session.person_id WHERE session.token = ?`,
  )
  const signed = new Map<string, string>()

  const tokenOf = (value: string): string | null => {
    const before = signed.get(value)
    if (before !== undefined) return before
    const plain = decoded(value)
    const dot = plain.lastIndexOf('.')
    if (dot < 1) return null
    const token = plain.slice(0, dot)
    const given = Buffer.from(plain.slice(dot + 1))
    const right = Buffer.from(createHmac('sha256', secret).update(token).digest('base64'))
    if (given.length !== right.length || !timingSafeEqual(given, right)) return null
    if (signed.size >= REMEMBERED) signed.clear()
    signed.set(value, token)
    return token
  }

  return (cookies: string): Actor | null | 'ask the library' => {
    const values = cookies.split(';').flatMap((one) => {
      const [key = '', ...rest] = one.trim().split('=')
      return key === name ? [rest.join('=')] : []
    })
    const [value] = values
    if (value === undefined) return null
    if (values.length > 1) return 'ask the library'
    const token = tokenOf(value)
    if (token === null) return null
    const found = opened.get(token)
    if (!found) return null
    const now = Date.now()
    const { expiresAt, updatedAt, ...actor } = found
    return expiresAt <= now || updatedAt < now - FRESH_MS ? 'ask the library' : actor
  }
}

function decoded(value: string): string {
  try {
    return decodeURIComponent(value)
  } catch {
    return value
  }
}
