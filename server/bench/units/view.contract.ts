import type { Instant } from '#kernel/instant'
import type { Check } from '../designs/design.contract'
import type { Permission } from './permitted.rules'
import type { SoakFacts, SoakSeen } from './soak.rules'
import type { Verdict } from './verdict.rules'

/** One line of the checklist as the bench shows it. */
export interface CheckView extends Check {
  limits: string
  permission: Permission
  reading: {
    id: string
    entry: string
    value: number
    doubt: number | null
    verdict: Verdict
    by: string
    at: Instant
    instrument: string | null
    isWhileSearching: boolean
    /** Of a soak: its hours and cold starts, and whether the house saw them. */
    soak: (SoakSeen & { isStated: boolean }) | null
  } | null
  /** Why what stood here does not any more. */
  lost: string | null
  releasedBy: string | null
  /** What a good unit of the design read: one that holds a certificate, if there is one. */
  reference: { tag: string; entry: string; value: number; isCertified: boolean } | null
}

export interface PositionView {
  designator: string
  partId: string
  part: string
  blocks: string[]
  fittedAfter: string | null
  isProgrammed: boolean
  holds: { batch: string; piece: string | null; at: Instant } | null
  /** Empty, and the check it waits for has passed. */
  mayFit: boolean
}

export interface TimelineEntry {
  at: Instant
  kind: 'fitted' | 'reading' | 'rework' | 'release' | 'taken out' | 'revision'
  tone: 'good' | 'bad' | 'doubt' | 'plain'
  words: string
  by: string
}

/** The whole bench screen of a unit: what came with the page, and what the house sends when it changes. */
export interface BenchView {
  unitId: string
  tag: string
  setAside: string | null
  design: { id: string; name: string; revision: string; decisionRule: string; cautions: string; blocks: string[] }
  checks: CheckView[]
  positions: PositionView[]
  /** What is kept beside the readings. */
  evidence: { id: string; check: string | null; isShown: boolean }[]
  next: Permission | null
  /** The soak that runs now. */
  soak: SoakFacts | null
  /** What happened last, the latest first, and how many entries there are in all. */
  timeline: TimelineEntry[]
  happened: number
}
