import { type Instant, toIso } from '#kernel/instant'
import type { FaultFound } from '../faults/fault.contract'
import type { ShownEvidence } from '../units/evidence.contract'
import { isPass } from '../units/verdict.rules'
import type { CertificateResult } from './certificates.contract'
import { checksForHome, evidenceForMachines, faultForMachines, type Gap, gapsBeforeIssue, resultOf } from './certificates.rules'
import type { EarlierReading, InstrumentFacts, ReworkFacts, UnitFacts } from './record.contract'
import { DECISION_WORDS, DOUBT_WORDS, PROVES_EARLIER_WORDS, PROVES_NOTHING_WORDS, PROVES_WORDS, recordSentence } from './sentences.rules'
import { readSince, type Since } from './since-signed.rules'

/** What anybody may read about a unit, tested or not: no name of a person but of who released a hold point, no donor. */
export interface PublicRecord {
  tag: string
  number: number
  design: { name: string; revision: string; quirks: readonly string[]; cautions: readonly string[] }
  setAside: string | null
  /** The verdict in one sentence. */
  sentence: string
  checks: number
  passed: number
  within: number
  failed: number
  firstReadingAt: Instant | null
  lastReadingAt: Instant | null
  results: CertificateResult[]
  /** Keys of the checks that a buyer can repeat. */
  atHome: string[]
  /** What a certificate would still need; empty once it can be issued. */
  missing: Gap[]
  earlier: readonly EarlierReading[]
  reworks: readonly ReworkFacts[]
  faults: readonly FaultFound[]
  instruments: readonly InstrumentFacts[]
  /** Pictures, sweeps, images of firmware and recordings that were chosen for everybody. */
  evidence: readonly ShownEvidence[]
  decision: string
  doubt: string
  proves: string
}

/** `certifiedAt`: when what stands for it was signed; what was read since is no part of that. */
export function publicRecord(unit: UnitFacts, isCertified: boolean, certifiedAt: Instant | null = null): PublicRecord {
  const { tag, number, design, setAside, earlier, reworks, faults, instruments, evidence } = unit
  // What was taken to find a fault is evidence of the fault, and no result of the machine.
  const results = unit.checks.flatMap((check) => (check.current && !check.current.isWhileSearching ? [resultOf(check, check.current)] : []))
  const times = results.map((result) => Date.parse(result.takenAt)).sort((a, b) => a - b)
  const counts = { checks: unit.checks.length, ...countsOf(results) }
  const missing = gapsBeforeIssue(unit)
  const newer = readingsSince({ results, earlier }, certifiedAt).length
  const told = { ...counts, reworks: reworks.length, isCertified, newer, missing: missing.length }
  return {
    tag,
    number,
    design: { name: design.name, revision: design.revision, quirks: design.quirks, cautions: design.cautions },
    setAside,
    sentence: sentenceOf(setAside, told),
    ...counts,
    firstReadingAt: times[0] ?? null,
    lastReadingAt: times.at(-1) ?? null,
    results,
    atHome: checksForHome(
      results,
      unit.checks.some(({ home }) => home),
    ),
    missing,
    earlier,
    reworks,
    faults,
    instruments,
    evidence,
    decision: DECISION_WORDS[design.decisionRule],
    doubt: DOUBT_WORDS,
    proves: provesWords(isCertified, newer),
  }
}

function provesWords(isCertified: boolean, newer: number): string {
  if (!isCertified) return PROVES_NOTHING_WORDS
  return newer === 0 ? PROVES_WORDS : PROVES_EARLIER_WORDS
}

/** How many of the readings pass, and how. */
export function countsOf(results: readonly Pick<CertificateResult, 'verdict'>[]): { passed: number; within: number; failed: number } {
  const passed = results.filter(({ verdict }) => isPass(verdict)).length
  const within = results.filter(({ verdict }) => verdict === 'pass within doubt').length
  return { passed, within, failed: results.length - passed }
}

export const sentenceOf = (setAside: string | null, told: Parameters<typeof recordSentence>[0]): string =>
  setAside === null ? recordSentence(told) : `Set aside: ${setAside}`

/** The readings that are newer than what was signed at `certifiedAt`. */
export const readingsSince = ({ results, earlier }: Pick<PublicRecord, 'results' | 'earlier'>, certifiedAt: Instant | null): Since[] =>
  certifiedAt === null
    ? []
    : readSince({ results, earlier: earlier.map((one) => ({ ...one, takenAt: toIso(one.takenAt) })) }, toIso(certifiedAt))

/** Where the form of `record.json` is published. A change that breaks a reader takes the next number; what is only added does not. */
export const RECORD_SCHEMA = '/schemas/record-1.json'

/** The same for machines: `/units/{tag}/record.json`. Instants as ISO 8601 in UTC, links as paths. */
export function recordForMachines(record: PublicRecord, serial: string | null) {
  const { firstReadingAt, lastReadingAt, earlier, reworks, faults, instruments, evidence, missing, ...rest } = record
  const iso = (at: Instant | null) => (at === null ? null : toIso(at))
  return {
    $schema: RECORD_SCHEMA,
    kind: 'tagstrip-record' as const,
    version: 1 as const,
    ...rest,
    firstReadingAt: iso(firstReadingAt),
    lastReadingAt: iso(lastReadingAt),
    missing: missing.map((gap) => gap.words),
    earlier: earlier.map((reading) => ({ ...reading, takenAt: toIso(reading.takenAt) })),
    reworks: reworks.map((rework) => ({ ...rework, at: toIso(rework.at) })),
    faults: faults.map(faultForMachines),
    instruments: instruments.map((one) => ({ ...one, checkedAt: iso(one.checkedAt), dueAt: iso(one.dueAt) })),
    evidence: evidence.map(evidenceForMachines),
    certificate: serial === null ? null : `/certificates/${serial}`,
    links: {
      record: `/units/${record.tag}`,
      certificate: serial === null ? null : `/certificates/${serial}`,
      signed: serial === null ? null : `/certificates/${serial}.json`,
      paper: serial === null ? null : `/certificates/${serial}.pdf`,
      credits: `/units/${record.tag}#given-by`,
      keys: '/.well-known/jwks.json',
    },
  }
}
