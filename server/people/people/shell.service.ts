import type { Instant } from '#kernel/instant'
import type { Currency } from '#kernel/money'
import { isStaff, type Role } from '#kernel/role'
import type { Context } from '#runtime/call/base'
import type { Sight } from '#runtime/queue/turn'
import { atWorkIn } from '../campaign/at-work'
import { findCampaign } from '../campaign/campaign.service'
import { presentDay } from '../campaign/stream-days.service'
import { hasEarlier, listCampaigns } from '../campaign/which.service'
import { findBiddingPaddle } from './people.service'

/** What the shell around every page shows: whose campaign it is, and who is signed in. */
export interface Shell {
  campaign: {
    name: string
    causeName: string
    currency: Currency
    zone: string
    /** Of the day that is on, has just been, or comes next. */
    streamOpensAt: Instant
    streamClosesAt: Instant
    streamUrl: string
    playerUrl: string
  } | null
  /** Campaigns of this house that are over, the latest first. */
  earlier: { name: string; slug: string }[]
  /** Told to the staff: the earlier campaign in which they are at work in this browser. */
  atWorkIn: string | null
  isDemo: boolean
  person: { name: string; role: Role; paddle: number | null } | null
  /** Told to the staff: a proxy hides who is who. */
  areVisitorsAlike: boolean
  /** Told to the staff: screens were turned away because the system lets this program hold no more files open than so many. */
  fewFiles: number | null
}

export function readShell(
  sight: Sight,
  { actor, isDemo, unnamedProxy, openFiles, cookies }: Pick<Context, 'actor' | 'isDemo' | 'unnamedProxy' | 'openFiles' | 'cookies'>,
): Shell {
  const found = findCampaign(sight)
  const day = found && presentDay(sight)
  const earlier = hasEarlier(sight) ? listCampaigns(sight).filter(({ endedAt }) => endedAt !== null) : []
  const atWork = isStaff(actor?.role) ? atWorkIn(cookies) : null
  return {
    campaign: found &&
      day && {
        name: found.name,
        causeName: found.causeName,
        currency: found.currency,
        zone: found.zone,
        streamOpensAt: day.opensAt,
        streamClosesAt: day.closesAt,
        streamUrl: found.streamUrl,
        playerUrl: found.playerUrl,
      },
    earlier: earlier.map(({ name, slug }) => ({ name, slug })),
    atWorkIn: earlier.find(({ slug }) => slug === atWork)?.name ?? null,
    isDemo: isDemo && (found?.isDemo ?? false),
    person: actor && { name: actor.name, role: actor.role, paddle: findBiddingPaddle(sight, actor.personId)?.number ?? null },
    areVisitorsAlike: isStaff(actor?.role) && unnamedProxy.isThere(),
    fewFiles: isStaff(actor?.role) && openFiles.wasShort() ? openFiles.limit : null,
  }
}
