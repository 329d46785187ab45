import { findCampaign } from '#people/campaign/campaign.service'
import type { LiveTopic } from '#runtime/live/live'
import { readDay } from './day.service'

const TOUCHING = ['lot.closed', 'lot.withdrawn', 'lot.extended', 'lot.planned', 'lot.stands']

/** The line of the day. It is made anew at each close, each movement of a closing and each one of money, and not with each bid. */
export const dayTopic: LiveTopic = {
  prefix: 'day',
  audience: 'public',
  touchedBy: ({ kind }) => (kind.startsWith('money.') || TOUCHING.includes(kind) ? ['day'] : []),
  frame: (sight) => (findCampaign(sight) ? readDay(sight) : null),
}
