import type { Fact, Sight } from '../queue/turn'

/** What a watching screen may follow: a family of topics (`lot:7`, `meter`) and how their frames are made. */
export interface LiveTopic {
  /** `lot:` for a family, `meter` for a single one. */
  prefix: string
  audience: 'public' | 'staff'
  /** The topics whose screens are out of date after this fact. */
  touchedBy(fact: Fact): string[]
  /** The whole state of a topic, never a difference; null where there is no such thing. */
  frame(sight: Sight, topic: string): object | null
}

export const topicFor = (topics: readonly LiveTopic[], name: string): LiveTopic | undefined =>
  topics.find(({ prefix }) => (prefix.endsWith(':') ? name.startsWith(prefix) : name === prefix))
