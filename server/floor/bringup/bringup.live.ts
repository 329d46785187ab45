import { findUnitByTag } from '#bench/units/roster.service'
import type { LiveTopic } from '#runtime/live/live'
import { bringupView } from './bringup.service'

/** Two people at one unit see each other's readings at once. */
export const unitTopic: LiveTopic = {
  prefix: 'unit:',
  audience: 'staff',
  touchedBy: ({ subject, body }) => {
    if (subject.startsWith('unit:')) return [subject]
    return typeof body.tag === 'string' && subject.startsWith('certificate:') ? [`unit:${body.tag}`] : []
  },
  frame: (sight, topic) => {
    const tag = topic.slice('unit:'.length)
    return findUnitByTag(sight, tag) === null ? null : bringupView(sight, tag)
  },
}
