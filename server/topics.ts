import { overlayTopic } from './air/overlay.live'
import { lotsTopic, lotTopic } from './bidding/bidding.live'
import { unitTopic } from './bringup/bringup.live'
import { creditsTopic } from './credits/credits.live'
import { searchTopic } from './faults/faults.live'
import { dayTopic, meterTopic } from './money/money.live'
import { programmeTopic } from './programme/programme.live'
import type { LiveTopic } from './runtime/live'

/** What watching screens may follow at /live. One line for each room's. */
export const LIVE_TOPICS: readonly LiveTopic[] = [
  creditsTopic,
  dayTopic,
  lotTopic,
  lotsTopic,
  meterTopic,
  overlayTopic,
  programmeTopic,
  searchTopic,
  unitTopic,
]
