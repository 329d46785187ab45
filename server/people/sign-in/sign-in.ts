import { createHmac } from 'node:crypto'
import { betterAuth } from 'better-auth'
import { drizzleAdapter } from 'better-auth/adapters/drizzle'
import { emailOTP } from 'better-auth/plugins'
import type { Db } from '#db/open'
import { account, person, session, verification } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import type { Role } from '#kernel/role'
import type { Actor, Turn } from '#runtime/queue/turn'
import { openSessionLookUp } from './session-look-up'

export const CODE_MINUTES = 10
const SESSION_DAYS = 30

export interface SignIn {
  /** Sends a fresh code to the address; who asked and how often is decided before this is called. */
  sendCode(email: string): Promise<void>
  /** Takes a code and opens a session; answers the cookies to set. Refuses a wrong, used or old code at `code`. */
  takeCode(email: string, code: string): Promise<{ personId: string; cookies: string[] }>
  /** Opens a session without a code: the first maker's link and the demo's roles, both guarded by their callers. */
  openSession(personId: string): Promise<string[]>
  whoIs(cookies: string): Promise<Actor | null>
  close(cookies: string): Promise<string[]>
}

declare module '#runtime/call/base' {
  interface Opened {
    signIn: SignIn
  }
}

/**
 * Sign-in by mail code, kept by better-auth on the house's own database handle. None of its HTTP
 * routes is mounted: it is called from our procedures only.
 */
export function openSignIn(parts: {
  db: Db
  secret: string
  codeKey: string
  publicUrl: string
  /** Begins the names of its cookies: two houses on one host name must not overwrite each other's. */
  cookiePrefix: string
  command<T>(work: (turn: Turn) => T): Promise<T>
}): SignIn {
  const { db, secret, codeKey, publicUrl, cookiePrefix, command } = parts
  const auth = betterAuth({
    secret,
    baseURL: publicUrl,
    // Its transactions would stay open across awaits and block the command queue, so it gets none.
    database: drizzleAdapter(db, { provider: 'sqlite', schema: { person, session, account, verification }, transaction: false }),
    user: { modelName: 'person', additionalFields: { role: { type: 'string', input: false, defaultValue: 'bidder' } } },
    session: { expiresIn: SESSION_DAYS * 86_400, cookieCache: { enabled: false } },
    emailAndPassword: { enabled: false },
    rateLimit: { enabled: false },
    telemetry: { enabled: false },
    logger: { disabled: true },
    advanced: { cookiePrefix, useSecureCookies: publicUrl.startsWith('https:'), ipAddress: { disableIpTracking: true } },
    plugins: [
      emailOTP({
        otpLength: 6,
        expiresIn: CODE_MINUTES * 60,
        allowedAttempts: 5,
        storeOTP: { hash: async (code) => createHmac('sha256', codeKey).update(code).digest('hex') },
        sendVerificationOTP: async ({ email, otp }) => {
          await command((turn) =>
            turn.post({
              to: email,
              subject: 'Your sign-in code',
              body: `${otp} is your code. It is good for ${CODE_MINUTES} minutes, once, in the browser that asked for it.\n\nIf you did not ask for it, nothing happens without it; you can leave this mail alone.`,
            }),
          )
        },
      }),
    ],
  })

  const lookUp = openSessionLookUp(db, secret, { publicUrl, cookiePrefix })

  return {
    async sendCode(email) {
      await auth.api.sendVerificationOTP({ body: { email, type: 'sign-in' } })
    },
    async takeCode(email, code) {
      const answer = await auth.api.signInEmailOTP({ body: { email, otp: code }, returnHeaders: true }).catch((cause: unknown) => {
        if (cause instanceof Error && cause.name === 'APIError')
          throw Refusal.at('code', 'That code does not fit, or it is too old. Look at the newest mail, or ask for another code.')
        throw cause
      })
      return { personId: answer.response.user.id, cookies: answer.headers.getSetCookie() }
    },
    async openSession(personId) {
      const context = await auth.$context
      const opened = await context.internalAdapter.createSession(personId)
      const { name, attributes } = context.authCookies.sessionToken
      const signature = createHmac('sha256', secret).update(opened.token).digest('base64')
      const flags = [
        `Max-Age=${SESSION_DAYS * 86_400}`,
        `Path=${attributes.path ?? '/'}`,
        'HttpOnly',
        'SameSite=Lax',
        attributes.secure ? 'Secure' : '',
      ]
      return [`${name}=${encodeURIComponent(`${opened.token}.${signature}`)}; ${flags.filter(Boolean).join('; ')}`]
    },
    async whoIs(cookies) {
      if (!cookies.includes(cookiePrefix)) return null
      const known = lookUp(cookies)
      if (known !== 'ask the library') return known
      const found = await auth.api.getSession({ headers: new Headers({ cookie: cookies }) })
      if (!found) return null
      const { id, name, email, role } = found.user as typeof found.user & { role: Role }
      return { personId: id, name, email, role }
    },
    async close(cookies) {
      const answer = await auth.api.signOut({ headers: new Headers({ cookie: cookies }), returnHeaders: true })
      return answer.headers.getSetCookie()
    },
  }
}
