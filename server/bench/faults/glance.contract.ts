import type { Check } from '../designs/design.contract'
import type { Verdict } from '../units/verdict.rules'
import type { CommonCause } from './common-cause.rules'
import type { Spread } from './spread.rules'

/** What a cell of the picture shows: what stands for one check of one unit. */
export const CELLS = ['pass', 'pass within doubt', 'fail within doubt', 'fail', 'searching', 'lost', 'none'] as const
export type CellState = (typeof CELLS)[number]

export interface Cell {
  tag: string
  state: CellState
  entry: string
  /** It failed once, whatever stands now. */
  hasFailed: boolean
}

export interface PlottedReading {
  tag: string
  value: number
  entry: string
  verdict: Verdict
  doubt: number | null
  isApart: boolean
}

export interface GlanceCheck extends Pick<Check, 'key' | 'title' | 'stage' | 'kind' | 'unit' | 'nominal' | 'lower' | 'upper' | 'decimals'> {
  limits: string
  cells: Cell[]
  /** Only for measured and counted checks, of readings that stand and were taken in their order. */
  readings: PlottedReading[]
  spread: Spread | null
}

export interface CommonFailure {
  check: string
  title: string
  failed: string[]
  taken: number
  causes: CommonCause[]
  /** How many things were compared. */
  compared: number
}

export interface GlanceUnit {
  tag: string
  fault: string | null
  setAside: boolean
}

export interface GlanceView {
  prefix: string
  design: { id: string; name: string; revision: string }
  units: GlanceUnit[]
  checks: GlanceCheck[]
  common: CommonFailure[]
  closed: { tag: string; symptom: string; block: string | null; changed: string; minutes: number }[]
}
