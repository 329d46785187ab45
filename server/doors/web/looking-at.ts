import { findUnitByTag } from '#bench/units/roster.service'
import { Refusal } from '#kernel/refusal'
import { atWorkIn } from '#people/campaign/at-work'
import { findEarlier, hasEarlier, inCampaign, presentNumber } from '#people/campaign/which.service'
import type { Context } from '#runtime/call/base'
import type { Sight } from '#runtime/queue/turn'
import { campaignOfLot, findLotOfUnit } from '#sale/lots/lots.service'

/** What a call or an address names of a campaign: its own name in addresses, a lot, or a unit by its tag. */
interface Named {
  campaign?: unknown
  lot?: unknown
  /** Lots that are paid together are of one campaign. */
  lots?: unknown
  unit?: unknown
  tag?: unknown
}

/**
 * The number of the earlier campaign that is asked for: the one named, or the one in which the lot or the unit was sold last. What was
 * printed for a campaign so goes on answering for it. Null for the present one. An address of a campaign that never was is refused.
 */
function earlierNamed(sight: Sight, named: unknown): number | null {
  if (typeof named !== 'object' || named === null) return null
  const { campaign, lots, lot = Array.isArray(lots) ? lots[0] : undefined, unit, tag } = named as Named
  const number = typeof campaign === 'string' && campaign !== '' ? numberOf(sight, campaign) : soldIn(sight, lot, unit ?? tag)
  return number === null || number === presentNumber(sight) ? null : number
}

function numberOf(sight: Sight, slug: string): number {
  const found = findEarlier(sight, slug)
  if (!found) throw new Refusal('not-found', 'There was no such campaign here.')
  return found.number
}

function soldIn(sight: Sight, lot: unknown, tag: unknown): number | null {
  if (typeof lot === 'number' && Number.isSafeInteger(lot)) return campaignOfLot(sight, lot)
  const unit = typeof tag === 'string' && tag.length <= 40 ? findUnitByTag(sight, tag.toUpperCase()) : null
  const last = unit && findLotOfUnit(sight, unit.id)
  return last ? campaignOfLot(sight, last.number) : null
}

/** The earlier campaign in which the staff are at work in this browser; a call that names a lot is about that. */
function earlierAtWork(sight: Sight, cookies: string, named: unknown): number | null {
  const slug = atWorkIn(cookies)
  const namesLot = typeof named === 'object' && named !== null && ('lot' in named || 'lots' in named)
  return slug === null || namesLot ? null : (findEarlier(sight, slug)?.number ?? null)
}

/** The earlier campaign that something is about; null for the present one. `cookies` are those of the staff, and nobody else's. */
export const earlierCampaign = (sight: Sight, named: unknown, cookies: string): number | null =>
  hasEarlier(sight) ? (earlierNamed(sight, named) ?? earlierAtWork(sight, cookies, named)) : null

type Looks = Pick<Context, 'sight' | 'command'>

/** For the context of a call: how it reads and commands where it is about an earlier campaign. */
export const looksAt =
  (sight: Looks['sight'], command: Looks['command'], cookies: () => string): Context['lookAt'] =>
  (named, isForStaff) => {
    // Work on a machine that nobody bought is work of the present campaign, whichever it was once sold in.
    const asked = isForStaff && typeof named === 'object' ? { ...named, unit: undefined, tag: undefined } : named
    const number = earlierCampaign(sight(), asked, isForStaff ? cookies() : '')
    if (number === null) return null
    return {
      sight: () => inCampaign(sight(), number),
      // The turn itself: what follows from what is done in it looks at the same campaign.
      command: (work) => command((turn) => work(Object.assign(turn, { campaign: number }))),
    }
  }
