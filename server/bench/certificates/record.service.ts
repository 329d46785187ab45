import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { findPerson } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { partsById } from '#stock/catalogue/part.service'
import { batchesById } from '#stock/shelf/batch.service'
import { getPiece } from '#stock/shelf/piece.service'
import { waiversOf } from '#stock/shelf/sampling.service'
import type { Check } from '../designs/design.contract'
import { faultsFound, openFaultTitle } from '../faults/found.service'
import { shownEvidence } from '../units/evidence.service'
import { readersOf, takenFirst } from '../units/readings.service'
import { goodReadings } from '../units/run-readings.service'
import { howSoakIsKnown } from '../units/soak.rules'
import { soaksOf } from '../units/soak.service'
import { undoneBy } from '../units/undo.rules'
import { loadUnit, type UnitState } from '../units/unit-state.service'
import { departuresOf, gapsBeforeIssue } from './certificates.rules'
import { type PublicRecord, publicRecord } from './public-record.rules'
import type { CurrentReading, InstrumentFacts, UnitFacts } from './record.contract'
import { currentCertificate, type Standing, withdrawnOfUnit } from './standing.service'

type ReadingRow = UnitState['readings'][number]

/** The whole record of a unit: what stands, what stood before and why it does not any more, what was reworked, what is in it. */
export interface UnitRecord extends UnitFacts {
  unitId: string
  releases: { check: string; name: string; at: Instant }[]
}

/** Everything that a certificate and the public record say of a unit. People by their role, but for who released a hold point. */
export const unitRecord = (sight: Sight, tag: string): UnitRecord => unitFacts(sight, loadUnit(sight, tag))

function unitFacts(sight: Sight, state: UnitState): UnitRecord {
  const { unit, design, standing, readings } = state
  const roles = new Map([...new Set(readings.map(({ byPersonId }) => byPersonId))].map((id) => [id, findPerson(sight, id)?.role]))
  const byRole = ({ byPersonId }: ReadingRow) => `the ${roles.get(byPersonId) ?? 'maker'}`
  const told: Told = {
    byRole,
    references: goodReadings(sight, state),
    soaks: soaksOf(sight, unit.id),
    evidence: shownEvidence(sight, unit.id),
  }
  return {
    unitId: unit.id,
    tag: unit.tag,
    number: unit.number,
    setAside: unit.setAsideReason,
    design: {
      key: design.key,
      name: design.name,
      revision: design.revision,
      digest: design.digest,
      decisionRule: design.decisionRule,
      quirks: paragraphs(design.quirks),
      cautions: paragraphs(design.cautions),
    },
    checks: design.checks.map((check) => checkFacts(check, state, told)),
    withdrawn: withdrawnOfUnit(sight, unit.id),
    earlier: readings.flatMap((reading) => {
      const gone = standing.superseded.get(reading.id)
      // What was taken while searching is in the unit's own timeline, and no part of what may be signed.
      if (!gone || reading.whileSearching) return []
      const title = design.checks.find(({ key }) => key === reading.checkKey)?.title ?? 'a check of an earlier revision'
      const { checkKey, entry, verdict, at } = reading
      return [{ check: checkKey, title, shown: entry, unit: reading.unit || null, verdict, takenAt: at, whyNotCurrent: sentence(gone.why) }]
    }),
    reworks: state.reworks.map((rework) => ({
      at: rework.at,
      fault: rework.fault,
      what: rework.changed,
      iron: rework.iron,
      undid: undidThen(state, rework.id),
    })),
    faults: faultsFound(sight, unit.id),
    instruments: instrumentsThen(readings),
    fitted: fittedFacts(sight, state),
    departures: [...waivedIn(sight, state), ...openIn(sight, state)],
    evidence: told.evidence,
    unfitted: design.positions.filter(({ designator }) => !state.fitted.has(designator)).map(({ designator }) => designator),
    releases: state.releases
      .filter(({ checkKey, name }) => standing.states.get(checkKey)?.releasedBy === name)
      .map(({ checkKey, name, at }) => ({ check: checkKey, name, at })),
  }
}

/** What still stands between a unit and its certificate, as sentences, empty when it may be issued; and the departures that would be signed with it. */
export function beforeIssue(sight: Sight, state: UnitState): { missing: string[]; departures: string[] } {
  const facts = unitFacts(sight, state)
  return { missing: gapsBeforeIssue(facts).map(({ words }) => words), departures: departuresOf(facts) }
}

/** What anybody may read of a unit's tests, and the certificate that stands for it. */
export function certifiedRecord(sight: Sight, state: UnitState): { record: PublicRecord; standing: Standing | null } {
  const standing = currentCertificate(sight, state.unit.id)
  return { record: publicRecord(unitFacts(sight, state), standing !== null, standing?.issuedAt), standing }
}

interface Told {
  byRole: (row: ReadingRow) => string
  references: ReadonlyMap<string, number>
  soaks: ReturnType<typeof soaksOf>
  evidence: ReturnType<typeof shownEvidence>
}

function checkFacts(check: Check, unit: UnitState, { byRole, references, soaks, evidence }: Told): UnitFacts['checks'][number] {
  const { standing, readings } = unit
  const state = standing.states.get(check.key)
  const row = readings.find(({ id }) => id === state?.current)
  return {
    key: check.key,
    stage: check.stage,
    title: check.title,
    kind: check.kind,
    isHold: check.isHold,
    isReleased: !check.isHold || state?.releasedBy != null,
    release: releaseOf(check, unit),
    nominal: check.nominal,
    lower: check.lower,
    upper: check.upper,
    unit: check.unit || null,
    reference: check.kind === 'measure' ? (references.get(check.key) ?? null) : null,
    plain: check.plain || null,
    caution: check.caution || null,
    home: check.atHome,
    current: row
      ? {
          seq: takenFirst(row, readings).seq,
          shown: bareEntry(row),
          value: check.kind === 'match' || check.kind === 'yesno' ? null : row.value,
          doubt: row.expandedUncertainty,
          verdict: row.verdict,
          instrument: instrumentThen(row, readings)?.name ?? null,
          takenAt: row.at,
          takenBy: byRole(row),
          ambient: row.ambient || null,
          isWhileSearching: row.whileSearching,
          matched: row.fileSha ?? (check.kind === 'match' ? row.entry.replace(/^0x/, '') : null),
          lower: row.lower,
          upper: row.upper,
          departure: departureOf(row),
          photograph: evidence.some(({ sha256 }) => sha256 === row.photoSha) ? row.photoSha : null,
          soak: soakOf(row, readings, soaks),
        }
      : null,
  }
}

/** The release that was given for the reading that stands. */
function releaseOf(check: Check, unit: UnitState): UnitFacts['checks'][number]['release'] {
  const row = unit.readings.find(({ id }) => id === unit.standing.states.get(check.key)?.current)
  const given = row && unit.releases.find(({ checkKey, seq }) => checkKey === check.key && seq > row.seq)
  return given ? { by: given.name, at: given.at, hadRead: readersOf(unit, check).includes(given.byPersonId) } : null
}

function soakOf(row: ReadingRow, readings: readonly ReadingRow[], soaks: Told['soaks']): CurrentReading['soak'] {
  const { hours, starts } = row
  if (hours === null) return null
  const { at } = takenFirst(row, readings)
  return { hours, coldStarts: starts ?? 0, seen: howSoakIsKnown({ at, hours, starts: starts ?? 0 }, soaks) }
}

/**
 * The instruments as they were when something was read with them, by name: one that was checked anew between two readings
 * stands there twice. A figure that was put right later was read with what it was read with.
 */
function instrumentsThen(readings: readonly ReadingRow[]): InstrumentFacts[] {
  const used = readings.filter(({ whileSearching }) => !whileSearching).flatMap((row) => instrumentThen(row, readings) ?? [])
  const each = new Map(used.map((one) => [JSON.stringify([one.name, one.accuracy, one.checkedAt, one.dueAt]), one]))
  return [...each.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.checkedAt - b.checkedAt))
}

function instrumentThen(row: ReadingRow, readings: readonly ReadingRow[]): ReadingRow['instrumentThen'] {
  const first = takenFirst(row, readings)
  return first.instrumentId === row.instrumentId ? first.instrumentThen : row.instrumentThen
}

/** What departed from the method, as it was declared, and for ever that the instrument was past its date. Notes stay at the bench. */
function departureOf({ departure, instrumentOverdue }: ReadingRow): string | null {
  const overdue = instrumentOverdue ? 'The instrument was past the date of its next check.' : ''
  return [departure, overdue].filter(Boolean).join(' ') || null
}

/** The figure without the check's own unit behind it, which stands in a column of its own; another prefix stays. */
export function bareEntry({ entry, unit }: Pick<ReadingRow, 'entry' | 'unit'>): string {
  return unit !== '' && entry.endsWith(` ${unit}`) ? entry.slice(0, -unit.length - 1) : entry
}

/** Readings that stood when the rework was entered and did not any more after it. */
function undidThen({ design, readings, changes, standing }: UnitState, reworkId: string): string[] {
  const change = changes.find(({ id }) => id === reworkId)
  invariant(change, 'a rework of the record is one of the unit')
  const spoilt = change.undone ? [...change.undone.keys()] : undoneBy(change, design.checks, design.feeds).map(({ check }) => check)
  const ofRecord = readings.filter(({ whileSearching }) => !whileSearching)
  const lostToIt = new Set(ofRecord.filter(({ id }) => standing.superseded.get(id)?.id === reworkId).map(({ checkKey }) => checkKey))
  return spoilt.filter((key) => lostToIt.has(key))
}

/** Positions that hold the same, from the same batch, in one line. */
function fittedFacts(sight: Sight, { design, fitted }: UnitState): UnitFacts['fitted'] {
  const batches = new Map(batchesById(sight, [...new Set([...fitted.values()].map(({ batchId }) => batchId))]).map((row) => [row.id, row]))
  const parts = partsById(
    sight,
    [...batches.values()].map(({ partId }) => partId),
  )
  return design.lines.flatMap((line) => {
    const rows = line.designators.flatMap((designator) => fitted.get(designator) ?? [])
    const groups = new Map<string, typeof rows>()
    for (const row of rows) groups.set(row.pieceId ?? row.batchId, [...(groups.get(row.pieceId ?? row.batchId) ?? []), row])
    return [...groups.values()].map((group) => {
      const first = group[0]
      invariant(first, 'a group of fittings has one')
      const batch = batches.get(first.batchId)
      return {
        designators: collapseDesignators(group.map(({ designator }) => designator)),
        part: within(parts.get(batch?.partId ?? '')?.words ?? line.part.words, 240),
        batch: batch?.code ?? null,
        sha256: first.pieceId === null ? null : getPiece(sight, first.pieceId).imageSha256,
        isQuarantined: batch?.state === 'quarantined',
      }
    })
  })
}

/** A batch that its sampling plan rejected is in the machine, and why it was let through. */
function waivedIn(sight: Sight, { fitted }: UnitState): string[] {
  const rows = [...fitted.values()]
  const waivers = waiversOf(sight, [...new Set(rows.map(({ batchId }) => batchId))])
  const batches = batchesById(sight, [...waivers.keys()])
  return batches.map(({ id, code }) => {
    const where = collapseDesignators(rows.filter(({ batchId }) => batchId === id).map(({ designator }) => designator))
    return `${within(where, 400)}: from ${code}, of which more were bad than its sampling plan allows. The maker let it through: ${waivers.get(id)}`
  })
}

/** A fault that is open while the unit is certified all the same. */
function openIn(sight: Sight, state: UnitState): string[] {
  const title = openFaultTitle(sight, state)
  return title === null ? [] : [`${within(`A fault was open when this was signed: ${title}`, 400)}.`]
}

/** As much as a field of the document holds. */
const within = (words: string, most: number) => (words.length <= most ? words : `${words.slice(0, most - 1)}…`)

const paragraphs = (text: string) =>
  text
    .split(/\n+/)
    .map((line) => line.trim())
    .filter((line) => line !== '')

const sentence = (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}${/[.!?]$/.test(words) ? '' : '.'}`
