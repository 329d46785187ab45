import { civilOf } from '#kernel/civil'
import { DAY, type Instant } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import { lastDayEnds } from '#people/campaign/stream-days.service'
import { campaignNumber } from '#people/campaign/which.service'
import { noteChange } from '#people/changes/changes.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { nameLots } from '#sale/lots/name-lots.rules'
import type { TermIn } from './deletion.contract'
import * as store from './deletion.store'

/** How many days after the stream contact data is kept. */
export const contactDays = (sight: Sight): number => store.contactDays(sight.db, campaignNumber(sight))

/** When the campaign's term for contact data is over; null before there is a campaign. */
export function contactsDueAt(sight: Sight): Instant | null {
  return findCampaign(sight) && lastDayEnds(sight) + contactDays(sight) * DAY
}

export function setTerm(turn: Turn, actor: Actor, { days }: TermIn): { days: number } {
  const before = contactDays(turn)
  store.keepTerm(turn.db, campaignNumber(turn), days)
  noteChange(turn, actor, { kind: 'terms', what: 'how long contact data is kept', before: `${before} days`, after: `${days} days` })
  turn.record({ kind: 'contacts.term-set', subject: 'contacts', body: { days } })
  return { days }
}

/** Why contact data cannot be deleted now, in words; null when it can. */
export function whyNotYet(sight: Sight): string | null {
  const campaign = findCampaign(sight)
  const dueAt = contactsDueAt(sight)
  if (!campaign || dueAt === null) return 'There is no campaign yet.'
  const open = listLots(sight).filter(({ state }) => state === 'open' || state === 'held')
  if (open.length > 0)
    return `${nameLots(open.map(({ number }) => number))} ${open.length === 1 ? 'is' : 'are'} still open, and their bidders have to be reachable.`
  if (sight.now < dueAt)
    return `The time is not up yet: contact data is kept until ${civilOf(dueAt, campaign.zone).replace('T', ' at ')}. Shorten the term if you want to delete sooner.`
  return null
}

/** The next campaign keeps contact data as long as the one before. */
export const carryTerm = (turn: Turn, from: number, to: number): void => store.keepTerm(turn.db, to, store.contactDays(turn.db, from))
