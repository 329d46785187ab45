import { z } from 'zod'
import type { Verdict } from '#bench/units/verdict.rules'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'
import type { GaugeReading } from '#paper/gauge.rules'
import type { AirFrames } from './air.contract'

/** The pictures that can lie over the stream, each by its name in the address: `/air/overlay/price`, `/air/overlay/price,meter`. */
export const OVERLAYS = {
  price: 'Price, bids and how long is left',
  card: 'The lot’s card: tag, what was measured, what comes with it',
  meter: 'How far it is to the target',
  names: 'Donors of this lot, rolling',
  credits: 'Everyone who gave, rolling',
  next: 'The next three lots, in two zones',
  cause: 'The cause, in one line',
  clock: 'The house’s clock, and the history’s head after a close',
  result: 'The result, filling the picture',
  hold: 'Notice that the clocks are stopped',
} as const
export type OverlayName = keyof typeof OVERLAYS
export const OVERLAY_NAMES = Object.keys(OVERLAYS) as OverlayName[]

/** What an address asks for, in the order of the list above; empty when it names nothing that there is. */
export function overlaysIn(address: string): OverlayName[] {
  const asked = address.split(',').map((part) => part.trim())
  return OVERLAY_NAMES.filter((name) => asked.includes(name))
}

/** Sent in the body of a POST and never in an address: addresses stand in the logs of whatever lies between. */
export const overlayIn = z.strictObject({ key: text(200, 'That is not a key.') })
export const lotOverlayIn = overlayIn.extend({ lot: z.int().positive() })

export interface OverlayFrames extends AirFrames {
  campaign: string
  cause: { name: string; registration: string; shareBp: number }
  publicUrl: string
  state: OverlayState
}

/** The live topic `overlay`: when the present key was made, so that what was opened with another goes dark at once, and the hold. */
export interface OverlayState {
  keyMadeAt: Instant | null
  hold: { since: Instant; reason: string } | null
}

export type OverlayOpened = { isOpen: true; frames: OverlayFrames | null } | { isOpen: false }

/** The page on which the staff see all of them and copy their addresses. */
export interface OverlayDesk {
  frames: OverlayFrames | null
  /** Null when there is none, or when it was made by an earlier house and cannot be told again. */
  key: string | null
  keyMadeAt: Instant | null
  /** Zones of the audience besides the stream's. */
  zones: string[]
  /** A picture of a lot to lie under the previews; null where there is none. */
  photograph: string | null
}

/** The list that rolls: everyone who agreed to be named on stream, at this moment. */
export interface RollingCredits {
  campaign: string
  names: string[]
  friends: number
}

export interface CardGauge extends Required<GaugeReading> {
  name: string
  shown: string
  verdict: Verdict
}

/** A lot's card on the picture: only what was measured and passed, and what its sentence says of the rest. */
export interface LotOnAir {
  lot: number
  sentence: string
  gauges: CardGauge[]
  extras: string[]
  serial: string | null
}
