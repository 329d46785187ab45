import { findCampaign } from '#people/campaign/campaign.service'
import type { LiveTopic } from '#runtime/live/live'
import { proceeds } from './proceeds.service'

const TOUCHING = ['money.', 'lot.', 'bid.', 'campaign.', 'closings.', 'fixed-price.']

/** The meter, whole in every frame. */
export const meterTopic: LiveTopic = {
  prefix: 'meter',
  audience: 'public',
  touchedBy: ({ kind }) => (TOUCHING.some((start) => kind.startsWith(start)) ? ['meter'] : []),
  frame: (sight) => (findCampaign(sight) ? proceeds(sight) : null),
}
