import { invariant } from '#kernel/invariant'
import type { Sight } from '#runtime/queue/turn'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { listParts, standsInFor } from '#stock/catalogue/part.service'
import { batchesById } from '#stock/shelf/batch.service'
import { getPiece } from '#stock/shelf/piece.service'
import { type BatchCard, batchesFor } from '#stock/shelf/stock.service'
import { limitWords } from '../designs/check-words.rules'
import { getDesign } from '../designs/designs.service'
import { substitutesOf } from '../designs/substitutes.service'
import { readingsElsewhere } from './bench.store'
import { hasPassed } from './current.rules'
import { evidenceMarks } from './evidence.service'
import { nextPermitted, permissions } from './permitted.rules'
import { takenFirst } from './readings.service'
import { howSoakIsKnown } from './soak.rules'
import { runningSoak, soaksOf } from './soak.service'
import { loadUnit, type UnitState } from './unit-state.service'
import { allInstrumentRows, peopleById } from './units.store'
import { VERDICT_WORDS } from './verdict.rules'
import type { BenchView, CheckView, PositionView, TimelineEntry } from './view.contract'

/** So many of what happened come with the screen, which is sent anew at every change; the others are asked for. */
const NEWEST = 40

/** Everything that the bench screen of a unit shows. */
export function benchView(sight: Sight, state: UnitState): BenchView {
  const { unit, design, bench } = state
  const { id, name, revision, decisionRule, cautions, blocks } = design
  const timeline = timelineOf(sight, state)
  return {
    unitId: unit.id,
    tag: unit.tag,
    setAside: unit.setAsideReason,
    design: { id, name, revision, decisionRule, cautions, blocks },
    checks: checkViews(sight, state),
    positions: positionViews(sight, state),
    evidence: evidenceMarks(sight, unit.id),
    next: nextPermitted(bench),
    soak: runningSoak(sight, unit.id),
    timeline: timeline.slice(0, NEWEST),
    happened: timeline.length,
  }
}

export interface FitChoice {
  partId: string
  /** `asks`: it may stand in by its figures, once somebody says yes. */
  batches: { id: string; code: string; inHand: number; words: string; asks: boolean }[]
  pieces: { tag: string; verdict: string }[]
}

/** For each part of the unit's list, what in hand could go in: batches with good pieces, and pieces that carry a tag. */
export function fitChoices(sight: Sight, tag: string): FitChoice[] {
  const catalogue = listParts(sight)
  const { design, unit } = loadUnit(sight, tag)
  const parts = [...new Set(design.positions.map(({ partId }) => partId))]
  const accepted = substitutesOf(sight, design.id)
  return parts.map((partId) => {
    const lines = design.positions.filter((position) => position.partId === partId).map(({ lineId }) => lineId)
    const instead = lines.flatMap((lineId) => accepted.get(lineId) ?? []).map(({ part }) => part.id)
    const own = catalogue.find(({ id }) => id === partId)
    const differences = new Map(
      catalogue.flatMap((other) => {
        const difference = own && other.id !== partId && !instead.includes(other.id) ? standsInFor(own, other) : null
        return difference === null ? [] : [[other.id, difference] as const]
      }),
    )
    const batches = [...new Set([partId, ...instead, ...differences.keys()])]
      .flatMap((id) => batchesFor(sight, id))
      .filter((batch) => batch.state === 'available' && !batch.isBarred && mayTake(batch, unit.id, design.id))
    return {
      partId,
      batches: batches
        .filter(({ inHand }) => inHand > 0)
        .map(({ id, code, inHand, marking, dateCode, part }) => {
          const difference = differences.get(part.id)
          const isInstead = part.id !== partId
          const other = difference ? `may stand in (${difference}): ${part.words}` : isInstead ? `instead: ${part.words}` : ''
          return { id, code, inHand, words: [other, marking, dateCode].filter(Boolean).join(', '), asks: difference !== undefined }
        }),
      pieces: batches.flatMap(({ loose }) => loose.map((piece) => ({ tag: piece.tag, verdict: piece.verdict }))),
    }
  })
}

const mayTake = ({ restriction }: BatchCard, unitId: string, designId: string) =>
  (restriction.onlyForUnitId ?? unitId) === unitId && (restriction.onlyForDesignId ?? designId) === designId

function checkViews(sight: Sight, { unit, design, bench, standing, readings }: UnitState): CheckView[] {
  const allowed = permissions(bench)
  const people = peopleById(
    sight.db,
    readings.map(({ byPersonId }) => byPersonId),
  )
  const elsewhere = readingsElsewhere(sight.db, design.key, unit.id)
  const soaks = soaksOf(sight, unit.id)
  const instruments = new Map(allInstrumentRows(sight.db).map(({ id, name }) => [id, name]))
  return design.checks.map((check, index) => {
    const state = standing.states.get(check.key)
    const row = readings.find(({ id }) => id === state?.current)
    const permission = allowed[index]
    invariant(permission, 'every check has a permission')
    const other = check.kind === 'measure' ? elsewhere.find(({ checkKey }) => checkKey === check.key) : undefined
    return {
      ...check,
      limits: limitWords(check),
      permission,
      reading: row
        ? {
            id: row.id,
            entry: row.entry,
            value: row.value,
            doubt: row.expandedUncertainty,
            verdict: row.verdict,
            by: people.get(row.byPersonId)?.name ?? '',
            at: row.at,
            soak: soakView(row, readings, soaks),
            instrument: row.instrumentId && `${instruments.get(row.instrumentId) ?? ''}${row.instrumentOverdue ? ', past its date' : ''}`,
            isWhileSearching: row.whileSearching,
          }
        : null,
      lost: state?.lost?.why ?? null,
      releasedBy: state?.releasedBy ?? null,
      reference: other ? { tag: other.tag, entry: other.entry, value: other.value, isCertified: other.isCertified } : null,
    }
  })
}

function soakView(row: UnitState['readings'][number], readings: UnitState['readings'], soaks: ReturnType<typeof soaksOf>) {
  const { hours, starts } = row
  if (hours === null) return null
  const seen = { hours, starts: starts ?? 0 }
  return { ...seen, isStated: howSoakIsKnown({ at: takenFirst(row, readings).at, ...seen }, soaks) === 'stated' }
}

function positionViews(sight: Sight, { design, bench, fitted }: UnitState): PositionView[] {
  const codes = batchCodes(sight, [...fitted.values()])
  const parts = new Map(design.lines.map(({ part }) => [part.id, part.words]))
  return design.positions.map(({ designator, partId, blocks, fittedAfter, isProgrammed }) => {
    const row = fitted.get(designator)
    const piece = row?.pieceId ? getPiece(sight, row.pieceId).tag : null
    return {
      designator,
      partId,
      part: parts.get(partId) ?? '',
      blocks,
      fittedAfter,
      isProgrammed,
      holds: row ? { batch: codes.get(row.batchId) ?? '', piece, at: row.at } : null,
      mayFit: !row && (fittedAfter === null || hasPassed(bench.states.get(fittedAfter))),
    }
  })
}

const batchCodes = (sight: Sight, rows: readonly { batchId: string }[]) =>
  new Map(batchesById(sight, [...new Set(rows.map(({ batchId }) => batchId))]).map(({ id, code }) => [id, code]))

/** All that happened to the unit, the latest first. */
export function timelineOf(sight: Sight, { readings, reworks, releases, moves, fittings, standing }: UnitState): TimelineEntry[] {
  const codes = batchCodes(sight, fittings)
  const actors = [...readings, ...reworks, ...releases, ...moves, ...fittings].map(({ byPersonId }) => byPersonId)
  const people = peopleById(sight.db, actors)
  const by = (id: string | null) => people.get(id ?? '')?.name ?? ''
  const entries: TimelineEntry[] = [
    ...readings.map((row): TimelineEntry => {
      const gone = standing.superseded.get(row.id)
      const why = `${row.whileSearching ? ', taken while searching' : ''}${row.correction === null ? '' : ` (a correction: ${row.correction})`}`
      const words = `${row.checkKey}: ${row.entry}, ${VERDICT_WORDS[row.verdict].toLowerCase()}${why}${gone ? `; no longer current, ${gone.why}` : ''}`
      const tone = gone ? 'plain' : row.verdict === 'pass' ? 'good' : row.verdict === 'fail' ? 'bad' : 'doubt'
      return { at: row.at, kind: 'reading', tone, words, by: by(row.byPersonId) }
    }),
    ...reworks.map(
      (row): TimelineEntry => ({
        at: row.at,
        kind: 'rework',
        tone: 'doubt',
        words: `${row.fault}. ${row.changed}.`,
        by: by(row.byPersonId),
      }),
    ),
    ...releases.map(
      (row): TimelineEntry => ({
        at: row.at,
        kind: 'release',
        tone: 'plain',
        words: `${row.checkKey} released by ${row.name}`,
        by: by(row.byPersonId),
      }),
    ),
    ...moves.map((row): TimelineEntry => {
      const undid = Object.keys(row.retakes)
      const words = `to ${getDesign(sight, row.toDesignId).revision}${undid.length > 0 ? `; ${undid.join(', ')} to be taken again` : '; every reading carries over'}`
      return { at: row.at, kind: 'revision', tone: 'doubt', words, by: by(row.byPersonId) }
    }),
    ...groupedFittings(fittings, codes, by),
    ...fittings.flatMap((row): TimelineEntry[] =>
      row.outAt === null
        ? []
        : [
            {
              at: row.outAt,
              kind: 'taken out',
              tone: 'plain',
              words: `${row.designator}: ${row.outReason ?? ''}`,
              by: by(row.outByPersonId),
            },
          ],
    ),
  ]
  return entries.sort((a, b) => b.at - a.at)
}

/** What went in at one instant from one batch is one entry. */
function groupedFittings(fittings: UnitState['fittings'], codes: Map<string, string>, by: (id: string) => string): TimelineEntry[] {
  const groups = new Map<string, UnitState['fittings']>()
  for (const row of fittings) {
    const key = `${row.at} ${row.batchId} ${row.kind}`
    groups.set(key, [...(groups.get(key) ?? []), row])
  }
  return [...groups.values()].flatMap((rows) => {
    const first = rows[0]
    if (!first) return []
    const words = `${collapseDesignators(rows.map(({ designator }) => designator))} from ${codes.get(first.batchId) ?? ''}${first.kind === 'first' ? '' : `, ${first.kind}`}`
    return [{ at: first.at, kind: 'fitted' as const, tone: 'plain' as const, words, by: by(first.byPersonId) }]
  })
}
