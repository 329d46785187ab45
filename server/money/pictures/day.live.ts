import { findCampaign } from '#people/campaign/campaign.service'
import type { LiveTopic } from '#runtime/live/live'
import { readDay } from './day.service'

/** The line of the day. It is made anew at each close and with each movement of money, and not with each bid. */
export const dayTopic: LiveTopic = {
  prefix: 'day',
  audience: 'public',
  touchedBy: ({ kind }) => (kind.startsWith('money.') || kind === 'lot.closed' || kind === 'lot.withdrawn' ? ['day'] : []),
  frame: (sight) => (findCampaign(sight) ? readDay(sight) : null),
}
