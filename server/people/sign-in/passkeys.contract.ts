import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { idIn, text } from '#kernel/text'

const TRY_AGAIN = 'What the browser sent cannot be read. Try again.'

/** Bytes as a browser writes them: base64url without padding. */
const bytes = (most: number) => text(most, TRY_AGAIN).regex(/^[\w-]*$/, TRY_AGAIN)

const credential = { id: bytes(1400), rawId: bytes(1400), type: z.literal('public-key', TRY_AGAIN) }

/** What a device answers when it made a key (WebAuthn, RegistrationResponseJSON); what else a browser adds is left away. */
const madeKey = z.object({
  ...credential,
  response: z.object({
    clientDataJSON: bytes(4000),
    attestationObject: bytes(8000),
    transports: z.array(text(40, TRY_AGAIN)).max(12, TRY_AGAIN).optional(),
  }),
})
export type MadeKey = z.infer<typeof madeKey>

/** What a device answers when it signs (WebAuthn, AuthenticationResponseJSON). */
const signedAnswer = z.object({
  ...credential,
  response: z.object({
    clientDataJSON: bytes(4000),
    authenticatorData: bytes(4000),
    signature: bytes(2000),
    userHandle: bytes(200).optional(),
  }),
})
export type SignedAnswer = z.infer<typeof signedAnswer>

const name = text(80, 'Keep the name under 80 characters.').min(1, 'Give it a name, such as "my phone".')
const id = idIn('That is not one of your passkeys. Reload the page.')

/** The name comes first, so that it is right before a device makes a key. */
export const toRegisterPasskeyIn = z.strictObject({ name })
export const registerPasskeyIn = z.strictObject({ name, response: madeKey })
export const answerPasskeyIn = z.strictObject({ response: signedAnswer })
export const namePasskeyIn = z.strictObject({ id, name })
export const removePasskeyIn = z.strictObject({ id })

/** A passkey as whoever holds it sees it. */
export interface OwnPasskey {
  id: string
  name: string
  madeAt: Instant
  /** Whether its device keeps a copy elsewhere, so that a lost device does not lose it. */
  isBackedUp: boolean
}
