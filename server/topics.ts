import { lotsTopic, lotTopic } from './bidding/bidding.live'
import type { LiveTopic } from './runtime/live'

/** What watching screens may follow at /live. One line for each room's. */
export const LIVE_TOPICS: readonly LiveTopic[] = [lotTopic, lotsTopic]
