import type { Instant } from '#kernel/instant'
import { type Currency, type Minor, showMoney } from '#kernel/money'

/**
 * waiting: not said to the lot yet · awake: it stands as a bid there · won, lost: its lot has ended · lapsed: never a
 * bid, with a reason.
 */
export type LinkPhase = 'waiting' | 'awake' | 'won' | 'lost' | 'lapsed'

export interface Link {
  place: number
  lot: number
  maximumMinor: Minor
  phase: LinkPhase
  /** What it was won for. */
  hammerMinor: Minor | null
}

/** Lots in order with a maximum each: at most so many of them, and a cap on the hammer total. */
export interface EitherOr {
  mostWins: number
  capMinor: Minor | null
  links: readonly Link[]
}

/** What an either-or has to know of a lot to take its next step: how it is at this instant. */
export interface LotNow {
  phase: 'ready' | 'open' | 'held' | 'sold' | 'unsold' | 'withdrawn'
  closesAt: Instant | null
  leastNextMinor: Minor | null
  currency: Currency
}

export type EitherOrStep = { kind: 'wake'; place: number } | { kind: 'lapse'; place: number; why: string }

/**
 * The next thing that happens to an either-or by itself, or null when it has to wait. To be asked again after each step,
 * until it says null. As many maxima stand at once as may still be won; the next one wakes at the official close of
 * one before it that was lost. A lot on hold is waited for; the order is never changed.
 */
export function nextStep({ mostWins, capMinor, links }: EitherOr, lotNow: (lot: number) => LotNow, at: Instant): EitherOrStep | null {
  const waiting = links.filter(({ phase }) => phase === 'waiting')
  for (const { place, lot } of waiting) {
    const why = whyGone(lotNow(lot), lot, at)
    if (why) return { kind: 'lapse', place, why }
  }
  const next = waiting[0]
  if (!next) return null
  const { place, lot, maximumMinor } = next
  const won = links.filter(({ phase }) => phase === 'won')
  const awake = links.filter(({ phase }) => phase === 'awake')
  if (won.length >= mostWins) return { kind: 'lapse', place, why: won.length === 1 ? 'One was won.' : `${won.length} were won.` }
  const { phase, leastNextMinor, currency } = lotNow(lot)
  const spent = won.reduce((sum, { hammerMinor }) => sum + (hammerMinor ?? 0), 0)
  // Kept and told by email, so it does not name the cap, which lies sealed.
  if (capMinor !== null && spent + maximumMinor > capMinor) return { kind: 'lapse', place, why: 'Your cap could be passed.' }
  const awakeMinor = awake.reduce((sum, link) => sum + link.maximumMinor, 0)
  if (awake.length + won.length >= mostWins || (capMinor !== null && spent + awakeMinor + maximumMinor > capMinor)) return null
  if (phase !== 'open') return null
  const least = leastNextMinor ?? 0
  return maximumMinor < least
    ? { kind: 'lapse', place, why: `A bid had to be at least ${showMoney(least, currency)} by then.` }
    : { kind: 'wake', place }
}

/** A lot that has ended can no longer be bid on; at the very instant of its closing neither. */
function whyGone({ phase, closesAt }: LotNow, lot: number, at: Instant): string | null {
  if (phase === 'withdrawn') return `Lot ${lot} was withdrawn.`
  const isClosed = phase === 'sold' || phase === 'unsold' || (phase === 'open' && closesAt !== null && closesAt <= at)
  return isClosed ? `Lot ${lot} closed first.` : null
}

/** The most the either-or can still cost in hammer prices: its dearest maxima that may all be won, within the cap. */
export function mostOfEitherOr({ mostWins, capMinor, links }: EitherOr): Minor {
  const won = links.filter(({ phase }) => phase === 'won')
  const spent = won.reduce((sum, { hammerMinor }) => sum + (hammerMinor ?? 0), 0)
  const open = links.filter(({ phase }) => phase === 'waiting' || phase === 'awake').map(({ maximumMinor }) => maximumMinor)
  const dearest = open.sort((a, b) => b - a).slice(0, Math.max(0, mostWins - won.length))
  const most = dearest.reduce((sum, maximumMinor) => sum + maximumMinor, 0)
  return capMinor === null ? most : Math.min(most, Math.max(0, capMinor - spent))
}

/** Closings move: one lot this close behind another may end before the other's last extension (common practice). */
const CLOSE_BEHIND = 10 * 60_000

/** What makes a lapse likely as the programme stands, in words: for the form before it is sent, and for the page after. */
export function warningsOf(eitherOr: EitherOr, lotNow: (lot: number) => LotNow): string[] {
  const warnings: string[] = []
  const inPlay = eitherOr.links.filter(({ phase }) => phase === 'waiting' || phase === 'awake')
  for (const [index, link] of inPlay.entries()) {
    const { closesAt, leastNextMinor, currency } = lotNow(link.lot)
    if (link.phase !== 'waiting') continue
    if (leastNextMinor !== null && link.maximumMinor < leastNextMinor)
      warnings.push(
        `A bid on lot ${link.lot} has to be at least ${showMoney(leastNextMinor, currency, { short: true })} by now: its maximum is likely to lapse.`,
      )
    if (index < eitherOr.mostWins) continue
    const before = inPlay.slice(0, index).at(-1)
    const earlier = before && lotNow(before.lot).closesAt
    if (!before || earlier === null || earlier === undefined || closesAt === null) continue
    if (closesAt <= earlier) warnings.push(`Lot ${link.lot} closes before lot ${before.lot}: it would lapse before it is needed.`)
    else if (closesAt - earlier < CLOSE_BEHIND)
      warnings.push(`Lot ${link.lot} closes soon after lot ${before.lot}: late bids there could make it lapse.`)
  }
  return warnings
}
