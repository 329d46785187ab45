import type { Recorded } from '../queue/queue'
import type { Sight } from '../queue/turn'
import { type Fan, type FanParts, openFan } from './fan'
import { type LiveTopic, topicFor } from './live'

export interface Hub extends Omit<Fan, 'touch' | 'beginAnew'> {
  announce(facts: readonly Recorded[]): void
}

/** The fan of the house itself: facts touch topics, and the state of a topic is read from the house when it is brought. */
export function openHub({
  topics,
  sight,
  fault = () => {},
  ...fan
}: {
  topics: readonly LiveTopic[]
  sight(): Sight
  /** A frame that could not be made: its screens stay as they are, and nothing else stands still for it. */
  fault?(reason: unknown, topic: string): void
} & Omit<FanParts, 'make' | 'now'>): Hub {
  const {
    touch,
    beginAnew: _,
    ...rest
  } = openFan({
    ...fan,
    now: () => sight().now,
    make(topic, seq) {
      try {
        const body = topicFor(topics, topic)?.frame(sight(), topic)
        return body ? { data: JSON.stringify({ seq, ...body }), upTo: seq } : null
      } catch (reason) {
        fault(reason, topic)
        return null
      }
    },
  })
  return {
    ...rest,
    announce(facts) {
      touch(facts.flatMap((fact) => topics.flatMap((topic) => topic.touchedBy(fact).map((name) => [name, fact.seq] as const))))
    },
  }
}
