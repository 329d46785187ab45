import {
  type PublicKeyCredentialCreationOptionsJSON,
  type PublicKeyCredentialRequestOptionsJSON,
  startAuthentication,
  startRegistration,
} from '@simplewebauthn/browser'
import { Unable } from '#app/_trpc/use-command.ts'

/** Has the device make a key for this house, and answers its public half. */
export const makeKeyOnDevice = (optionsJSON: PublicKeyCredentialCreationOptionsJSON) => startRegistration({ optionsJSON }).catch(told)

/** Has the device sign with a key of this house, once whoever holds it has shown that they are there. */
export const signOnDevice = (optionsJSON: PublicKeyCredentialRequestOptionsJSON) => startAuthentication({ optionsJSON }).catch(told)

/** What came of it in words. A browser does not say whether somebody turned it down or had no such key. */
function told(reason: unknown): never {
  const name = reason instanceof Error ? reason.name : ''
  if (name === 'InvalidStateError') throw new Unable('This device already has a passkey for your account here.')
  if (name === 'NotAllowedError' || name === 'AbortError')
    throw new Unable('No passkey was used: it was turned down, took too long, or there is none for this house on the device.')
  throw new Unable('The device could not do that. Try again, or use a code by email.')
}
