import { z } from 'zod'
import { isZone } from '#kernel/civil'
import { COUNTRY_CODES } from '#kernel/countries'
import { mailAddress } from '#kernel/mail-address'
import { ROLES } from '#kernel/role'
import { text } from '#kernel/text'

const email = mailAddress('Write an email address, such as ada@workshop.example.').toLowerCase()

const name = text(80, 'Keep the name under 80 characters.').min(1, 'Write your name.')

export const askCodeIn = z.strictObject({ email })
export type AskCodeIn = z.infer<typeof askCodeIn>

export const enterCodeIn = z.strictObject({
  email,
  code: text(40, 'The code has six digits; it is in the email we sent you.')
    .transform((typed) => typed.normalize('NFKC').replaceAll(/\s/g, ''))
    .pipe(z.string().regex(/^\d{6}$/, 'The code has six digits; it is in the email we sent you.')),
})
export type EnterCodeIn = z.infer<typeof enterCodeIn>

const zone = text(64, 'Choose a time zone from the list.').refine(isZone, 'Choose a time zone from the list.')

/** In which time zone somebody reads times in letters. */
export const setZoneIn = z.strictObject({ zone })
export type SetZoneIn = z.infer<typeof setZoneIn>

export const takePaddleIn = z.strictObject({
  name,
  country: text(20, 'Choose the country we would send it to.')
    .toUpperCase()
    .refine((code) => COUNTRY_CODES.includes(code), 'Choose the country we would send it to.'),
  /** The browser's own, where it says it. */
  zone: zone.optional(),
  acceptsRules: z.literal(true, 'Read the rules of sale and tick that you accept them.'),
})
export type TakePaddleIn = z.infer<typeof takePaddleIn>

export const raiseCeilingIn = z.strictObject({ paddle: z.int().positive() })

export const setRoleIn = z.strictObject({ email, role: z.enum(ROLES, 'Choose one of the roles.') })

export const firstMakerIn = z.strictObject({ token: text(200).min(20), email, name })
export type FirstMakerIn = z.infer<typeof firstMakerIn>

export const stepIntoIn = z.strictObject({ personId: text(64) })

export interface Paddle {
  number: number
  country: string
  ceilingMinor: number
}
