import type { SharedFailure } from '#bench/faults/fault.contract'
import type { BenchView } from '#bench/units/view.contract'
import type { Instant } from '#kernel/instant'

export interface BringupView extends BenchView {
  /** The symptom of the fault that is being searched. */
  fault: string | null
  /** That the check which opened it passes now, in words; null while it fails. */
  faultPasses: boolean
  mayBeSlip: boolean
  /** Checks that failed on this unit and on others of its run. */
  shared: SharedFailure[]
  /** The last fact that this knows of: of two views the one with the higher number is the newer. */
  asOf: number
  /** The house's time when it was looked at. */
  servedAt: number
  /** Terminals that the wire has reached, 0 to 6. */
  reached: number
  /** Serial of the certificate that stands. */
  certificate: string | null
  /** When that was signed. */
  certifiedAt: Instant | null
  formerCertificates: string[]
  /** What the certificate still lacks, in sentences. */
  missing: string[]
  /** Departures from the method that would be signed with it, for everybody to read. */
  departures: string[]
}
