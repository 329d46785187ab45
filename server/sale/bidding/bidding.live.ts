import type { LiveTopic } from '#runtime/live/live'
import { lotFrame, lotsFrame } from './frames.service'

const isOfALot = (subject: string): boolean => /^lot:\d+$/.test(subject)

/** One lot, complete: `lot:7`. */
export const lotTopic: LiveTopic = {
  prefix: 'lot:',
  audience: 'public',
  touchedBy: ({ subject }) => (isOfALot(subject) ? [subject] : []),
  frame: (sight, topic) => {
    const number = Number(topic.slice('lot:'.length))
    return Number.isSafeInteger(number) ? lotFrame(sight, number) : null
  },
}

/** All public lots at once, for the list, the host and the overlay. */
export const lotsTopic: LiveTopic = {
  prefix: 'lots',
  audience: 'public',
  touchedBy: ({ subject }) => (isOfALot(subject) ? ['lots'] : []),
  frame: (sight) => lotsFrame(sight),
}
