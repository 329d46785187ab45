import type { NextThing } from './rack.rules'

export interface RackUnit {
  tag: string
  reached: number
  next: NextThing
  lot: { number: number; closesAt: number | null; standingMinor: number | null; currency: string } | null
}

export interface RackRun {
  runId: string
  designId: string
  design: string
  /** The letters of its tags. */
  prefix: string
  /** Checks that failed on several of its units. */
  shared: string[]
  units: RackUnit[]
}
