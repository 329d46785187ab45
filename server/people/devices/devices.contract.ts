import { z } from 'zod'
import { text } from '#kernel/text'

export const NO_KEYS = 'Your browser gave keys that the house cannot use. Switch messages off and on again.'

export const removeDeviceIn = z.strictObject({ id: text(80, 'That is not one of your devices.') })

/** What a browser says of its subscription (the Push API of the W3C): where it is reached, and the keys that it reads with. */
export const addDeviceIn = z.strictObject({
  endpoint: text(1000, 'Your browser named an address that is too long.'),
  /** A point of P-256, uncompressed: 65 bytes of which the first is 4. */
  p256dh: text(87, NO_KEYS).regex(/^B[\w-]{86}$/, NO_KEYS),
  auth: text(22, NO_KEYS).regex(/^[\w-]{22}$/, NO_KEYS),
  /** The key of the house that it was made for. */
  key: text(87, NO_KEYS).regex(/^B[\w-]{86}$/, NO_KEYS),
})
export type AddDeviceIn = z.infer<typeof addDeviceIn>

export interface ShownDevice {
  id: string
  /** "Firefox on Linux" */
  name: string
  at: number
  toldAt: number | null
  /** The end of its address, by which a browser knows itself. */
  tail: string
}

/** The end of an address by which a browser tells whether it is the one that is shown. */
export const tailOf = (endpoint: string): string => endpoint.slice(-12)
