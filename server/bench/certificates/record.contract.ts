import type { Instant } from '#kernel/instant'
import type { AtHome, CheckKind, DecisionRule } from '../designs/design.contract'
import type { FaultFound } from '../faults/fault.contract'
import type { ShownEvidence } from '../units/evidence.contract'
import type { Verdict } from '../units/verdict.rules'

/** What the bench knows of one unit, as far as a certificate and the public record need it. People by their role, but for who released a hold point. */
export interface UnitFacts {
  tag: string
  number: number
  /** Why the unit must not go on; null when nothing stands against it. */
  setAside: string | null
  design: {
    key: string
    name: string
    revision: string
    digest: string
    decisionRule: DecisionRule
    quirks: readonly string[]
    cautions: readonly string[]
  }
  /** In the order of the checklist. */
  checks: readonly CheckFacts[]
  /** Certificates of this unit that were withdrawn, the oldest first: a later one says so, and rests on new readings. */
  withdrawn: readonly WithdrawnFacts[]
  earlier: readonly EarlierReading[]
  reworks: readonly ReworkFacts[]
  /** Every fault it has had, the oldest first. */
  faults: readonly FaultFound[]
  instruments: readonly InstrumentFacts[]
  fitted: readonly FittedFacts[]
  /** Departures from the method that belong to no check: each a sentence. */
  departures: readonly string[]
  /** What was chosen of the evidence for everybody. */
  evidence: readonly ShownEvidence[]
  /** Designators of the parts list at which nothing is fitted. */
  unfitted: readonly string[]
}

export interface CheckFacts {
  key: string
  stage: string
  title: string
  kind: CheckKind
  isHold: boolean
  /** A hold point that a named person has released; true as well for checks that are none. */
  isReleased: boolean
  /** Who let the work go on past it, by the name they wrote, and whether they had taken its reading. */
  release: { by: string; at: Instant; hadRead: boolean } | null
  nominal: number | null
  lower: number | null
  upper: number | null
  unit: string | null
  reference: number | null
  plain: string | null
  caution: string | null
  /** How a buyer repeats it; only of a check that the maker opened for home. */
  home?: AtHome | undefined
  current: CurrentReading | null
}

/** A certificate that was withdrawn, why, and what it named to be measured again. */
export interface WithdrawnFacts {
  serial: string
  at: Instant
  reason: string
  /** Keys of checks; none where it was withdrawn before this was kept. */
  again: readonly string[]
  /** The last thing that had happened to the unit by then, in the order of what happens to one. */
  seq: number
}

export interface CurrentReading {
  /** Where it stands in the order of what happened to the unit; of a corrected one, where that was taken which it corrects. */
  seq: number
  shown: string
  value: number | null
  /** Expanded uncertainty U (k = 2), in the unit of the check. */
  doubt: number | null
  verdict: Verdict
  instrument: string | null
  takenAt: Instant
  takenBy: string
  ambient: string | null
  isWhileSearching: boolean
  matched: string | null
  /** The limits in force when it was taken, which are what it was judged by. */
  lower: number | null
  upper: number | null
  /** Declared at the bench as a departure from the method, for everybody to read. */
  departure: string | null
  /** SHA-256 of the photograph that was sent with it, as was done before evidence was kept beside readings. */
  photograph: string | null
  /** Of a soak: how long it ran and how often it was switched on from cold, and how that is known. */
  soak: { hours: number; coldStarts: number; seen: 'observed' | 'stated' } | null
}

export interface EarlierReading {
  check: string
  title: string
  shown: string
  unit: string | null
  verdict: Verdict
  takenAt: Instant
  whyNotCurrent: string
}

export interface ReworkFacts {
  at: Instant
  fault: string | null
  what: string
  iron: boolean
  undid: readonly string[]
}

export interface InstrumentFacts {
  name: string
  accuracy: string | null
  checkedAt: Instant | null
  dueAt: Instant | null
}

export interface FittedFacts {
  designators: string
  part: string
  batch: string | null
  sha256: string | null
  isQuarantined: boolean
}

/** What the campaign adds: who tests, for whom, in aid of what. */
export interface IssuerFacts {
  seller: string
  sellerAddress: string
  campaign: string
  cause: string
}
