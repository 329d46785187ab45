import type { Clock } from '#kernel/clock'
import type { Opened } from '#runtime/call/base'
import type { PhotographFolder } from '#runtime/disk/files'
import type { KeptFileFolder } from '#runtime/disk/kept-files'
import type { RecordingFolder } from '#runtime/disk/recordings'
import type { Hub } from '#runtime/live/hub'
import type { Queue } from '#runtime/queue/queue'
import type { Press } from '../papers/press'

/** An open house, as its door sees it: what procedures are given, and what is served beside them. */
export interface OpenHouse extends Opened {
  publicUrl: string
  clock: Clock
  queue: Queue
  hub: Hub
  photographs: PhotographFolder
  recordings: RecordingFolder
  keptFiles: KeptFileFolder
  press: Press
  /** How many rows were ever written since it opened: what was read before the last of them may be out of date. */
  changes(): number
  /** The number of the last fact. */
  seqNow(): number
  /** What keeps the house from taking anything, in words; null on a good day. */
  trouble(): string | null
}
