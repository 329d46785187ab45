import { findCampaign } from '#people/campaign/campaign.service'
import type { LiveTopic } from '#runtime/live/live'
import { publicProgramme } from './programme.service'

const TOUCHING = ['programme.', 'lot.', 'closings.', 'campaign.']

export const programmeTopic: LiveTopic = {
  prefix: 'programme',
  audience: 'public',
  touchedBy: ({ kind }) => (TOUCHING.some((start) => kind.startsWith(start)) ? ['programme'] : []),
  frame: (sight) => (findCampaign(sight) ? publicProgramme(sight) : null),
}
