import type { LiveTopic } from '#runtime/live/live'
import { findUnitByTag } from '../units/roster.service'
import { searchView } from './search.service'

/** Two people at one fault see at once what the other has measured, and where to look now. */
export const searchTopic: LiveTopic = {
  prefix: 'search:',
  audience: 'staff',
  touchedBy: ({ subject }) => (subject.startsWith('unit:') ? [`search:${subject.slice('unit:'.length)}`] : []),
  frame: (sight, topic) => {
    const tag = topic.slice('search:'.length)
    return findUnitByTag(sight, tag) === null ? null : searchView(sight, tag)
  },
}
