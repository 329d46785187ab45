import { createHmac, timingSafeEqual } from 'node:crypto'
import type { Db } from '#db/open'
import type { Instant } from '#kernel/instant'
import type { Session } from '#runtime/call/session'
import type { Actor } from '#runtime/queue/turn'
import { endOfSession } from './session-life.rules'

const REMEMBERED = 10_000

/** Who is signed in, under which session, and when it was last noted that it is used. */
export interface SignedIn {
  actor: Actor
  session: Session
  createdAt: Instant
  usedAt: Instant
}

interface Row extends Actor {
  sessionId: string
  createdAt: Instant
  usedAt: Instant
  confirmedAt: Instant
}

/**
 * Who a session cookie belongs to, by one prepared query: a bid cannot wait for the library's own look-up, which takes
 * longer than all the rest of a bid. The signature is checked as the library does (HMAC-SHA-256 of the token); a session
 * that was closed, has ended or belongs to nobody is null. The row is read each time, so closing a session or changing a
 * role holds at once.
 */
export function openSessionLookUp(db: Db, secret: string, { publicUrl, cookiePrefix }: { publicUrl: string; cookiePrefix: string }) {
  const name = `${publicUrl.startsWith('https:') ? '__Secure-' : ''}${cookiePrefix}.session_token`
  const opened = db.$client.prepare<[string], Row>(
    `SELECT person.id AS personId, person.role, person.name, person.email, session.id AS sessionId, session.created_at AS createdAt,
       session.updated_at AS usedAt, coalesce(session.confirmed_at, session.created_at) AS confirmedAt
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

  return (cookies: string, now: Instant): SignedIn | null => {
    for (const one of cookies.split(';')) {
      const [key = '', ...rest] = one.trim().split('=')
      // A cookie that another host of this domain set beside ours is signed by nobody, and passed over.
      const token = key === name ? tokenOf(rest.join('=')) : null
      const found = token === null ? undefined : opened.get(token)
      if (!found || endOfSession(found.role, found) <= now) continue
      const { personId, role, name: called, email, sessionId, createdAt, usedAt, confirmedAt } = found
      return { actor: { personId, role, name: called, email }, session: { id: sessionId, confirmedAt }, createdAt, usedAt }
    }
    return null
  }
}

function decoded(value: string): string {
  try {
    return decodeURIComponent(value)
  } catch {
    return value
  }
}
