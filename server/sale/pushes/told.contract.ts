import { z } from 'zod'
import type { ShownDevice } from '#people/devices/devices.contract'

/** A lot by its number; null for all that somebody bids on. */
export const wantIn = z.strictObject({ lot: z.int().positive().nullable(), wanted: z.boolean() })

/** How somebody is told of what happens to their bids. */
export interface HowTold {
  /** The house's key, by which a push service knows who sends. */
  key: string
  publicUrl: string
  devices: ShownDevice[]
  mine: boolean
  lots: { number: number; title: string }[]
  /** The zone that letters say times in; null for the campaign's. */
  zone: string | null
}
