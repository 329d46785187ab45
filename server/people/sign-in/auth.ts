import { passkey as passkeyModule } from '@better-auth/passkey'
import { betterAuth } from 'better-auth'
import { drizzleAdapter } from 'better-auth/adapters/drizzle'
import { APIError } from 'better-auth/api'
import type { Db } from '#db/open'
import { account, passkey, person, session, verification } from '#db/schema/index'
import { SECOND } from '#kernel/instant'
import { LONGEST } from './session-life.rules'

export type Auth = ReturnType<typeof openAuth>

/**
 * The sign-in library on the house's own database handle. None of its HTTP routes is mounted: it is called from our
 * procedures only, which have decided before who may ask and how often.
 */
export function openAuth(parts: { db: Db; secret: string; publicUrl: string; cookiePrefix: string }) {
  const { db, secret, publicUrl, cookiePrefix } = parts
  const { origin, hostname } = new URL(publicUrl)
  return betterAuth({
    secret,
    baseURL: publicUrl,
    // Its transactions would stay open across awaits and block the command queue, so it gets none.
    database: drizzleAdapter(db, {
      provider: 'sqlite',
      schema: { person, session, account, verification, passkey },
      transaction: false,
    }),
    user: { modelName: 'person', additionalFields: { role: { type: 'string', input: false, defaultValue: 'bidder' } } },
    // How long a session lasts, and what it may do, is decided by our own rules; the library neither renews nor judges one.
    session: { expiresIn: LONGEST / SECOND, disableSessionRefresh: true, freshAge: 0, cookieCache: { enabled: false } },
    emailAndPassword: { enabled: false },
    rateLimit: { enabled: false },
    telemetry: { enabled: false },
    logger: { disabled: true },
    advanced: { cookiePrefix, useSecureCookies: publicUrl.startsWith('https:'), ipAddress: { disableIpTracking: true } },
    plugins: [
      passkeyModule({
        rpName: 'Tagstrip',
        rpID: hostname,
        origin,
        authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
        // The module takes an answer for which nobody entered a PIN or showed a finger; we do not, since a passkey stands for a code.
        registration: { afterVerification: ({ verification }) => mustBeVerified(verification.registrationInfo?.userVerified) },
        authentication: { afterVerification: ({ verification }) => mustBeVerified(verification.authenticationInfo.userVerified) },
        advanced: { webAuthnChallengeCookie: 'passkey' },
      }),
    ],
  })
}

function mustBeVerified(isVerified: boolean | undefined): void {
  if (!isVerified) throw new APIError('UNAUTHORIZED', { message: 'the device did not ask who holds it' })
}
