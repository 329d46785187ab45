import { createHmac } from 'node:crypto'
import type { Db } from '#db/open'
import { SECOND } from '#kernel/instant'
import { isStaff } from '#kernel/role'
import type { Actor, Turn } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { openAuth } from './auth'
import { orNoRoom } from './no-room'
import { openPasskeys, type Passkeys } from './passkeys'
import { endOfSession, LONGEST, USE_IS_NOTED_AFTER } from './session-life.rules'
import { openSessionLookUp, type SignedIn } from './session-look-up'
import * as store from './sessions.store'

export interface SignIn {
  /** Opens a session for somebody whose code, link or role in the demo the caller has weighed. */
  openSession(personId: string, device: string): Promise<string[]>
  /** Ends a session that was opened as a proof alone, and whose cookies were given to nobody. */
  discard(token: string): Promise<void>
  sessionOf(cookies: string): SignedIn | null
  whoIs(cookies: string): Actor | null
  /**
   * For a screen of the staff's that stays open: answers, whenever it is asked, whether the session that opened it still
   * holds with the role that it had. Null for whoever is not of the staff. To be watched is not to be used.
   */
  staffWatch(cookies: string): (() => boolean) | null
  close(cookies: string): Promise<string[]>
  passkeys: Passkeys
}

declare module '#runtime/call/base' {
  interface Opened {
    signIn: SignIn
  }
}

/** Who is signed in, and who signs in with a passkey. Sessions are kept by better-auth; codes are weighed in codes.service.ts. */
export function openSignIn(parts: {
  db: Db
  secret: string
  publicUrl: string
  /**
   * In a rehearsal nothing is real and mail goes nowhere, so whoever stepped in with its key need prove nothing again. Its
   * cookies have names of their own: two houses on one host name must not overwrite each other's.
   */
  isRehearsal: boolean
  command<T>(work: (turn: Turn) => T): Promise<T>
  log: Log
}): SignIn {
  const { db, secret, publicUrl, isRehearsal, command, log } = parts
  const cookiePrefix = isRehearsal ? 'tagstrip-rehearsal' : 'tagstrip'
  const auth = openAuth({ ...parts, cookiePrefix })
  closeWhatAnotherSecretSigned(db, secret)
  const lookUp = openSessionLookUp(db, secret, { publicUrl, cookiePrefix })

  /** Written with whatever is committed next, so that no bid waits for it. */
  const noteUse = ({ session: { id }, actor: { role }, createdAt }: SignedIn, now: number) => {
    const change = { updatedAt: new Date(now), expiresAt: new Date(endOfSession(role, { createdAt, usedAt: now })) }
    command((turn) => store.updateSession(turn.db, id, change)).catch((reason) =>
      log.error({ err: reason }, 'could not note that a session is used'),
    )
  }
  const sessionOf = (cookies: string): SignedIn | null => {
    if (!cookies.includes(cookiePrefix)) return null
    const now = Date.now()
    const found = lookUp(cookies, now)
    if (found && now - found.usedAt >= USE_IS_NOTED_AFTER) noteUse(found, now)
    return found && isRehearsal ? { ...found, session: { ...found.session, confirmedAt: now } } : found
  }

  return {
    async openSession(personId, device) {
      await orNoRoom(() => store.deleteEndedSessions(db, Date.now()))
      const context = await auth.$context
      const opened = await orNoRoom(() => context.internalAdapter.createSession(personId, false, { userAgent: device }))
      const { name, attributes } = context.authCookies.sessionToken
      const signature = createHmac('sha256', secret).update(opened.token).digest('base64')
      const flags = [
        `Max-Age=${LONGEST / SECOND}`,
        `Path=${attributes.path ?? '/'}`,
        'HttpOnly',
        'SameSite=Lax',
        attributes.secure ? 'Secure' : '',
      ]
      return [`${name}=${encodeURIComponent(`${opened.token}.${signature}`)}; ${flags.filter(Boolean).join('; ')}`]
    },
    async discard(token) {
      await orNoRoom(async () => (await auth.$context).internalAdapter.deleteSession(token))
    },
    sessionOf,
    whoIs: (cookies) => sessionOf(cookies)?.actor ?? null,
    staffWatch(cookies) {
      const role = lookUp(cookies, Date.now())?.actor.role
      return isStaff(role) ? () => lookUp(cookies, Date.now())?.actor.role === role : null
    },
    async close(cookies) {
      const answer = await orNoRoom(() => auth.api.signOut({ headers: new Headers({ cookie: cookies }), returnHeaders: true }))
      return answer.headers.getSetCookie()
    },
    passkeys: openPasskeys(auth),
  }
}

/** With a new secret no cookie of before opens anything; the sessions themselves would still stand in everybody's list. */
function closeWhatAnotherSecretSigned(db: Db, secret: string): void {
  const digest = createHmac('sha256', secret).update('the secret that sessions are signed with').digest('hex')
  const before = store.findSecretDigest(db)
  if (before === digest) return
  if (before !== null) store.deleteAllSessions(db)
  store.saveSecretDigest(db, digest)
}
