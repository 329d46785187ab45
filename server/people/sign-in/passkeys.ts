import type { PublicKeyCredentialCreationOptionsJSON, PublicKeyCredentialRequestOptionsJSON } from '@simplewebauthn/browser'
import { Refusal } from '#kernel/refusal'
import type { Role } from '#kernel/role'
import type { Auth } from './auth'
import { orNoRoom } from './no-room'
import type { MadeKey, SignedAnswer } from './passkeys.contract'

/** What a browser is asked to sign, with the cookies that tie its answer to this asking. */
interface Asked<Options> {
  options: Options
  cookies: string[]
}

/** The ceremonies of WebAuthn: each is asked for, answered by a device, and counts once within five minutes. */
export interface Passkeys {
  toRegister(cookies: string, name: string): Promise<Asked<PublicKeyCredentialCreationOptionsJSON>>
  /** Keeps the public half of what the device made, for whoever is signed in. */
  register(cookies: string, name: string, response: MadeKey): Promise<void>
  /** With a session: only keys of whoever is signed in. Without: whichever the device has for this house. */
  toProve(cookies: string): Promise<Asked<PublicKeyCredentialRequestOptionsJSON>>
  /** Whose key the device answered with, and the session that this opens. */
  signIn(
    cookies: string,
    response: SignedAnswer,
    device: string,
  ): Promise<{ personId: string; role: Role; token: string; cookies: string[] }>
}

export function openPasskeys(auth: Auth): Passkeys {
  const { api } = auth
  const headersOf = (cookies: string, device = '') => new Headers({ cookie: cookies, 'user-agent': device })
  return {
    async toRegister(cookies, name) {
      const answer = await orNoRoom(() =>
        api.generatePasskeyRegistrationOptions({ headers: headersOf(cookies), query: { name }, returnHeaders: true }),
      )
      return { options: answer.response as PublicKeyCredentialCreationOptionsJSON, cookies: answer.headers.getSetCookie() }
    },
    async register(cookies, name, response) {
      await orNoRoom(() => api.verifyPasskeyRegistration({ headers: headersOf(cookies), body: { name, response: whole(response) } })).catch(
        refuse(NOT_KEPT),
      )
    },
    async toProve(cookies) {
      const answer = await orNoRoom(() => api.generatePasskeyAuthenticationOptions({ headers: headersOf(cookies), returnHeaders: true }))
      const options = answer.response as PublicKeyCredentialRequestOptionsJSON
      return { options: { ...options, userVerification: 'required' }, cookies: answer.headers.getSetCookie() }
    },
    async signIn(cookies, response, device) {
      const answer = await orNoRoom(() =>
        api.verifyPasskeyAuthentication({ headers: headersOf(cookies, device), body: { response: whole(response) }, returnHeaders: true }),
      ).catch(refuse(NOT_KNOWN))
      const { session } = answer.response
      const user = answer.response.user as typeof answer.response.user & { role: Role }
      return { personId: user.id, role: user.role, token: session.token, cookies: answer.headers.getSetCookie() }
    },
  }
}

/** No extension is asked for, so none is answered. */
const whole = <Answer>(answer: Answer) => ({ ...answer, clientExtensionResults: {} })

const NOT_KEPT = 'This passkey could not be saved. It may belong to another account here, or it took longer than five minutes. Try again.'
const NOT_KNOWN = 'This passkey does not work here, or it took longer than five minutes. Try again, or use a code by email.'

/** What the library refuses is a person's to put right; everything else is a fault of ours. */
const refuse =
  (words: string) =>
  (cause: unknown): never => {
    if (cause instanceof Error && cause.name === 'APIError') throw new Refusal('bad-input', words)
    throw cause
  }
