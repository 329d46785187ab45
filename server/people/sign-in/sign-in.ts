import { createHmac } from 'node:crypto'
import type { Db } from '#db/open'
import { SECOND } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { isStaff } from '#kernel/role'
import type { Actor, Letter, Turn } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { CODE_MINUTES, openAuth } from './auth'
import { openPasskeys, type Passkeys } from './passkeys'
import { endOfSession, LONGEST, USE_IS_NOTED_AFTER } from './session-life.rules'
import { openSessionLookUp, type SignedIn } from './session-look-up'
import * as store from './sessions.store'

export interface SignIn {
  /**
   * Sends a fresh code to the address; who asked and how often is decided before this is called. Answers the code: a demo
   * shows it where it was asked for, and nothing else may.
   */
  sendCode(email: string): Promise<string>
  /** Takes a code and opens a session; answers the cookies to set. Refuses a wrong, used or old code at `code`. */
  takeCode(email: string, code: string, device: string): Promise<{ personId: string; token: string; cookies: string[] }>
  /** Opens a session without a code: the first maker's link and the demo's roles, both guarded by their callers. */
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

/** Who signs in, by a code in a mail or by a passkey, and who is signed in. Sessions and codes are kept by better-auth. */
export function openSignIn(parts: {
  db: Db
  secret: string
  codeKey: string
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
    async sendCode(email) {
      const code = await auth.api.createVerificationOTP({ body: { email, type: 'sign-in' } })
      await command((turn) => turn.post(codeLetter(email, code)))
      return code
    },
    async takeCode(email, code, device) {
      store.deleteEndedSessions(db, Date.now())
      const answer = await auth.api
        .signInEmailOTP({ body: { email, otp: code }, headers: new Headers({ 'user-agent': device }), returnHeaders: true })
        .catch((cause: unknown) => {
          if (cause instanceof Error && cause.name === 'APIError')
            throw Refusal.at('code', 'That code does not fit, or it is too old. Look at the newest mail, or ask for another code.')
          throw cause
        })
      const { user, token } = answer.response
      return { personId: user.id, token, cookies: answer.headers.getSetCookie() }
    },
    async openSession(personId, device) {
      const context = await auth.$context
      const opened = await context.internalAdapter.createSession(personId, false, { userAgent: device })
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
      await (await auth.$context).internalAdapter.deleteSession(token)
    },
    sessionOf,
    whoIs: (cookies) => sessionOf(cookies)?.actor ?? null,
    staffWatch(cookies) {
      const role = lookUp(cookies, Date.now())?.actor.role
      return isStaff(role) ? () => lookUp(cookies, Date.now())?.actor.role === role : null
    },
    async close(cookies) {
      const answer = await auth.api.signOut({ headers: new Headers({ cookie: cookies }), returnHeaders: true })
      return answer.headers.getSetCookie()
    },
    passkeys: openPasskeys(auth),
  }
}

const codeLetter = (to: string, code: string): Letter => ({
  to,
  subject: 'Your sign-in code',
  body: `${code} is your code. It is good for ${CODE_MINUTES} minutes, once, in the browser that asked for it.\n\nIf you did not ask for it, nothing happens without it; you can leave this mail alone.`,
})

/** With a new secret no cookie of before opens anything; the sessions themselves would still stand in everybody's list. */
function closeWhatAnotherSecretSigned(db: Db, secret: string): void {
  const digest = createHmac('sha256', secret).update('the secret that sessions are signed with').digest('hex')
  const before = store.findSecretDigest(db)
  if (before === digest) return
  if (before !== null) store.deleteAllSessions(db)
  store.saveSecretDigest(db, digest)
}
