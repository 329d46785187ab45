import { overlayTopic } from '#air/screens/overlay.live'
import { searchTopic } from '#bench/faults/faults.live'
import { unitTopic } from '#floor/bringup/bringup.live'
import { creditsTopic } from '#gifts/credits/credits.live'
import { dayTopic } from '#money/pictures/day.live'
import { meterTopic } from '#money/proceeds/proceeds.live'
import type { LiveTopic } from '#runtime/live/live'
import { lotsTopic, lotTopic } from '#sale/bidding/bidding.live'
import { programmeTopic } from '#sale/programme/programme.live'

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
