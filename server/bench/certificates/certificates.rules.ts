import { checkCharacter } from '#kernel/ids'
import { type Instant, toIso } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import type { Check } from '../designs/design.contract'
import type { FaultFound } from '../faults/fault.contract'
import type { ShownEvidence } from '../units/evidence.contract'
import { isCloseOut } from '../units/undo.rules'
import { type CertificatePayload, type CertificateResult, certificatePayload } from './certificates.contract'
import type { CheckFacts, CurrentReading, IssuerFacts, UnitFacts } from './record.contract'
import { DECISION_WORDS, DOUBT_WORDS, PROVES_WORDS } from './sentences.rules'

/** One thing that stands in the way of a certificate, with what to do about it. */
export interface Gap {
  check: string | null
  words: string
}

/** All that is missing before the certificate of a unit may be issued; empty when nothing is. */
export function gapsBeforeIssue(unit: UnitFacts): Gap[] {
  const gaps: Gap[] = []
  if (unit.setAside !== null) gaps.push({ check: null, words: `The unit is set aside: ${unit.setAside}` })
  for (const part of unit.fitted.filter((one) => one.isQuarantined)) {
    gaps.push({ check: null, words: `${part.part} at ${part.designators} is from a quarantined batch. Replace it, then test again.` })
  }
  if (unit.unfitted.length > 0) {
    gaps.push({ check: null, words: `Nothing is fitted at ${unit.unfitted.join(', ')}. Fit the unit first.` })
  }
  if (unit.checks.length === 0) gaps.push({ check: null, words: 'The design has no checklist. Import one first.' })
  for (const check of unit.checks) {
    const words = whatCheckLacks(check)
    if (words !== null) gaps.push({ check: check.key, words })
    else gaps.push(...notAgain(check, unit.withdrawn).map((words) => ({ check: check.key, words })))
  }
  return gaps
}

function whatCheckLacks(check: CheckFacts): string | null {
  const name = `${check.key} ${check.title}`
  if (check.current === null) return `${name} has no current reading. Take it.`
  if (check.current.isWhileSearching) return `${name} was taken while searching for a fault. Take it again in its order.`
  if (check.current.verdict === 'fail within doubt') return `${name} fails within its doubt, which may not be certified.`
  if (check.current.verdict === 'fail') return `${name} failed. Mend the fault and take it again.`
  if (!check.isReleased) return `${name} is a hold point that nobody has released.`
  return null
}

/** What was named when a certificate was withdrawn must be measured again: what was read before says nothing about why it was withdrawn. */
function notAgain({ key, title, current }: CheckFacts, withdrawn: UnitFacts['withdrawn']): string[] {
  const wanting = withdrawn.findLast(({ again, seq }) => again.includes(key) && current !== null && current.seq <= seq)
  if (!wanting) return []
  return [`${key} ${title} was read before ${wanting.serial} was withdrawn, which named it. Take it again: ${wanting.reason}`]
}

/**
 * The checks that a withdrawal names, from those that it was given: a unit that is withdrawn without one has to be looked at
 * whole again, so then it names those of the close-out, or the last of a checklist that has none.
 */
export function namedByWithdrawal(given: readonly string[], checks: readonly Pick<Check, 'key' | 'stageKind'>[]): string[] {
  const named = checks.filter(({ key }) => given.includes(key))
  const closing = checks.filter((check) => isCloseOut(check))
  const last = closing.length > 0 ? closing : checks.slice(-1)
  return (named.length > 0 ? named : last).map(({ key }) => key)
}

/**
 * Serial number `number` of a year, such as TS-2027-0147-M: the last character is the check character
 * of ISO/IEC 7064 MOD 37-2. Null where that would be `*`, which no file name or address can carry well:
 * such numbers are passed over.
 */
export function serialOf(year: number, number: number): string | null {
  const digits = String(number).padStart(4, '0')
  const check = checkCharacter(`TS${year}${digits}`)
  return check === '*' ? null : `TS-${year}-${digits}-${check}`
}

/** The first serial of the year after `lastSerial` (null at the start of a year). */
export function nextSerial(year: number, lastSerial: string | null): string {
  const start = lastSerial === null ? 0 : Number(lastSerial.split('-')[2])
  for (let number = start + 1; number <= start + 3; number += 1) {
    const serial = serialOf(year, number)
    if (serial !== null) return serial
  }
  return invariant(false, 'of three serial numbers in a row one has a plain check character') as never
}

/** The document to be signed. Every field is checked against the contract, so that what is signed can always be read back. */
export function draftCertificate({
  unit,
  issuer,
  serial,
  issuedAt,
  home,
}: {
  unit: UnitFacts
  issuer: IssuerFacts
  serial: string
  issuedAt: Instant
  home: string
}): CertificatePayload {
  invariant(gapsBeforeIssue(unit).length === 0, 'a certificate is drafted only when nothing is missing')
  const results = unit.checks.flatMap((check) => (check.current ? [resultOf(check, check.current)] : []))
  const times = results.map((result) => result.takenAt).sort()
  const { design } = unit
  return certificatePayload.parse({
    kind: 'tagstrip-certificate',
    version: 1,
    title: `Record of tests, ${design.name} rev ${design.revision}`,
    issuer: { name: issuer.seller, address: issuer.sellerAddress },
    place: `All checks were made at the bench of ${issuer.seller}; none elsewhere.`,
    serial,
    end: `End of certificate ${serial}`,
    madeFor: {
      campaign: issuer.campaign,
      cause: issuer.cause,
      contact: `Whoever buys ${unit.tag} from ${issuer.seller}, ${issuer.sellerAddress}`,
    },
    method: { checklist: `Checklist of ${design.name}`, revision: design.revision, digest: design.digest, doubt: DOUBT_WORDS },
    item: {
      tag: unit.tag,
      design: design.name,
      revision: design.revision,
      number: unit.number,
      condition: conditionOf(unit),
      fitted: unit.fitted.map(({ designators, part, batch, sha256 }) => ({ designators, part, batch, sha256 })),
    },
    received: 'Built at the same bench, so there is no date of receipt.',
    work: { from: times[0], to: times.at(-1) },
    issuedAt: toIso(issuedAt),
    sampling: 'No sampling: every check was made on this unit itself.',
    scope: `The results relate only to ${unit.tag}, as it was when each reading was taken.`,
    results,
    deviations: departuresOf(unit),
    authorisedBy: 'the maker',
    external: 'None: no result comes from outside this bench.',
    copying: 'Pass it on whole: a part of it can mislead.',
    decisionRule: { name: design.decisionRule, words: DECISION_WORDS[design.decisionRule] },
    earlier: unit.earlier.map((reading) => ({ ...reading, takenAt: toIso(reading.takenAt) })),
    reworks: unit.reworks.map((rework) => ({ ...rework, at: toIso(rework.at), undid: [...rework.undid] })),
    faults: unit.faults.map(faultForMachines),
    withdrawn: unit.withdrawn.map(({ serial, at, reason, again }) => ({ serial, at: toIso(at), reason, again: [...again] })),
    instruments: unit.instruments.map((instrument) => ({
      ...instrument,
      checkedAt: instrument.checkedAt === null ? null : toIso(instrument.checkedAt),
      dueAt: instrument.dueAt === null ? null : toIso(instrument.dueAt),
    })),
    ...(unit.evidence.length > 0 && { evidence: unit.evidence.map(evidenceForMachines) }),
    atHome: checksForHome(results),
    quirks: [...design.quirks],
    cautions: [...design.cautions],
    proves: PROVES_WORDS,
    notClaimed:
      'It claims no accreditation and no conformity to ISO/IEC 17025, and does not say that the machine is safe, lawful or certified.',
    links: {
      home,
      certificate: `/certificates/${serial}`,
      record: `/units/${unit.tag}/record.json`,
      credits: `/units/${unit.tag}#given-by`,
      keys: '/.well-known/jwks.json',
    },
  })
}

/** All that is declared as a departure from the method, as it is going to be signed. */
export const departuresOf = (unit: UnitFacts): string[] => [
  ...unit.departures,
  ...unit.checks.flatMap((check) => (check.current?.departure ? [`${check.key}: ${check.current.departure}`] : [])),
]

function conditionOf(unit: UnitFacts): string {
  const lots = unit.fitted.length === 1 ? 'one entry' : `${unit.fitted.length} entries`
  const mended =
    unit.reworks.length === 0 ? 'never reworked' : `reworked ${unit.reworks.length === 1 ? 'once' : `${unit.reworks.length} times`}`
  return `Complete to its parts list (${lots}), ${mended}.`
}

export function resultOf(check: CheckFacts, reading: CurrentReading): CertificateResult {
  const { key, stage, title, kind, isHold, release, nominal, unit, reference, plain, caution, home } = check
  const { isWhileSearching: _never, departure: _toDeviations, seq: _order, takenAt, ...rest } = reading
  const released = release && { ...release, at: toIso(release.at) }
  const about = { check: key, stage, title, kind, isHold, nominal, unit, reference, plain, caution, ...(home && { home }) }
  return { ...about, takenAt: toIso(takenAt), ...rest, released }
}

/** The same with instants as text. */
export const faultForMachines = ({ foundAt, closedAt, ...rest }: FaultFound) => ({
  ...rest,
  foundAt: toIso(foundAt),
  closedAt: closedAt === null ? null : toIso(closedAt),
})

export const evidenceForMachines = ({ takenAt, ...rest }: ShownEvidence) => ({ ...rest, takenAt: toIso(takenAt) })

const ON_ANY_METER = new Set(['V', 'mV', 'A', 'mA', 'Ω', 'kΩ'])

/**
 * The checks that a buyer can repeat: those that the maker opened for home. Where a design opens none, up to five: first what any
 * plain meter reads, then what needs none, never one with a caution.
 */
export function checksForHome(results: readonly CertificateResult[], isChosen = results.some(({ home }) => home)): string[] {
  if (isChosen) return results.filter(({ home }) => home).map(({ check }) => check)
  const harmless = results.filter((result) => result.caution === null)
  const metered = harmless.filter((result) => result.kind === 'measure' && result.unit !== null && ON_ANY_METER.has(result.unit))
  const bare = harmless.filter((result) => result.kind === 'yesno' || result.kind === 'count')
  return [...metered, ...bare].slice(0, 5).map((result) => result.check)
}
