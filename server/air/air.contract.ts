import { z } from 'zod'
import type { LotsFrame } from '../bidding/bidding.contract'
import type { Instant } from '../kernel/instant'
import type { Currency } from '../kernel/money'
import type { Meter } from '../money/books.contract'
import type { Programme } from '../programme/programme.contract'

const OVERLAY_SHOWS = ['lot', 'meter', 'names', 'next', 'credits'] as const
export type OverlayShow = (typeof OVERLAY_SHOWS)[number]

/** What an address asks for, `show=lot,meter`; nothing known means the lot and the meter. */
export function overlayShows(text: string | undefined): OverlayShow[] {
  const asked = (text ?? '').split(',').map((part) => part.trim())
  const known = OVERLAY_SHOWS.filter((show) => asked.includes(show))
  return known.length > 0 ? known : ['lot', 'meter']
}

export const overlayIn = z.strictObject({ key: z.string().max(200, 'That is not a key.') })

export const lotNamesIn = overlayIn.extend({ lot: z.int().positive() })

export const cueSheetIn = z.strictObject({ lot: z.int().positive() })

/** What every screen on air begins with; the live topics keep it fresh. */
export interface AirFrames {
  programme: Programme
  lots: LotsFrame
  meter: Meter
  currency: Currency
}

export interface HostFrames extends AirFrames {
  standingHold: { since: Instant; reason: string } | null
  /** When the present key of the overlays was made; null when there is none. */
  overlayKeyMadeAt: Instant | null
}

export type OverlayOpened = { isOpen: true; frames: AirFrames | null } | { isOpen: false }

/** The list that rolls: everyone who agreed to be named on stream, at this moment. */
export interface RollingCredits {
  campaign: string
  names: string[]
  friends: number
}

export interface SaidName {
  name: string
  /** How to say it, "" when it is said as written. */
  sayIt: string
}

/** What the host needs at hand about one lot. Names are those who agreed to be named on stream, at this moment. */
export interface CueSheet {
  lot: number
  story: string
  record: string[]
  names: SaidName[]
  friends: number
}
