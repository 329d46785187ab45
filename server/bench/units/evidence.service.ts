import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { isPhotographNamed, isRecordingNamed } from '#people/photographs/photograph.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import type {
  addEvidenceIn,
  EvidenceEnding,
  EvidenceKind,
  EvidenceView,
  evidenceIdIn,
  ShownEvidence,
  showEvidenceIn,
} from './evidence.contract'
import * as store from './evidence.store'
import { loadUnit, type UnitState } from './unit-state.service'
import { peopleById } from './units.store'

const MOST_OF_A_UNIT = 200

/** Keeps one piece of evidence beside a reading, with it or later; of the reading itself nothing changes. */
export function addEvidence(turn: Turn, actor: Actor, input: z.output<typeof addEvidenceIn>): { id: string } {
  return once(turn, input.key, { evidence: input }, () => {
    const state = loadUnit(turn, input.tag)
    if (store.evidenceOf(turn.db, state.unit.id).length >= MOST_OF_A_UNIT)
      throw Refusal.at('sha', `${state.unit.tag} has ${MOST_OF_A_UNIT} pieces of evidence already. Take one away first.`, 'too-many')
    const place = placeOf(state, input)
    mustBeKept(turn, input)
    const row: store.EvidenceRow = {
      id: turn.dice.id(),
      unitId: state.unit.id,
      ...place,
      kind: input.kind,
      sha: input.sha,
      ending: input.ending,
      name: input.name,
      words: input.words,
      at: turn.now,
      byPersonId: actor.personId,
      shownAt: null,
      takenAwayAt: null,
    }
    store.insertEvidence(turn.db, row)
    const body = { unitId: state.unit.id, tag: state.unit.tag, check: place.checkKey, kind: input.kind, sha: input.sha }
    turn.record({ kind: 'unit.evidence-kept', subject: `unit:${state.unit.tag}`, body })
    return { id: row.id }
  })
}

function placeOf({ readings, design, standing }: UnitState, { readingId, check }: z.output<typeof addEvidenceIn>) {
  if (readingId !== undefined) {
    const reading = readings.find(({ id }) => id === readingId)
    if (!reading) throw Refusal.at('check', 'The reading that it belongs to is not one of this machine.', 'not-found')
    return { readingId, checkKey: reading.checkKey }
  }
  if (check === undefined || check === '') return { readingId: null, checkKey: null }
  if (!design.checks.some(({ key }) => key === check)) throw Refusal.at('check', `${check} is not a check of this machine.`, 'not-found')
  return { readingId: standing.states.get(check)?.current ?? null, checkKey: check }
}

const KINDS_BY_ENDING: Record<EvidenceEnding, EvidenceKind> = {
  webp: 'picture',
  csv: 'sweep',
  bin: 'firmware',
  mp4: 'recording',
  webm: 'recording',
  m4a: 'recording',
  mp3: 'recording',
  ogg: 'recording',
  wav: 'recording',
}

/** The file came before what names it, and is what it is said to be. */
function mustBeKept(turn: Turn, { kind, sha, ending }: z.output<typeof addEvidenceIn>): void {
  const isKept =
    KINDS_BY_ENDING[ending] === kind &&
    (kind === 'picture'
      ? isPhotographNamed(turn, sha)
      : kind === 'recording'
        ? isRecordingNamed(turn, sha)
        : store.findKeptFile(turn.db, sha, ending === 'csv' ? 'csv' : 'bin') !== undefined)
  if (!isKept) throw Refusal.at('sha', 'The file has not arrived. Choose it again.', 'not-found')
}

/** Shows one piece to everybody, or no longer: nothing of what the bench keeps is public before. */
export function showEvidence(
  turn: Turn,
  _actor: Actor,
  { id, isShown }: z.output<typeof showEvidenceIn>,
): { id: string; isShown: boolean } {
  const { row, tag } = inHand(turn, id)
  if ((row.shownAt !== null) === isShown) return { id, isShown }
  store.setEvidence(turn.db, id, { shownAt: isShown ? turn.now : null })
  turn.record({
    kind: isShown ? 'unit.evidence-shown' : 'unit.evidence-hidden',
    subject: `unit:${tag}`,
    body: { unitId: row.unitId, tag, id },
  })
  return { id, isShown }
}

/** Takes one piece away from the machine, such as a picture of another one. */
export function takeEvidenceAway(turn: Turn, _actor: Actor, { id }: z.output<typeof evidenceIdIn>): { id: string } {
  const { row, tag } = inHand(turn, id)
  store.setEvidence(turn.db, id, { takenAwayAt: turn.now })
  turn.record({ kind: 'unit.evidence-taken-away', subject: `unit:${tag}`, body: { unitId: row.unitId, tag, id } })
  return { id }
}

function inHand(turn: Turn, id: string): { row: store.EvidenceRow; tag: string } {
  const row = store.findEvidence(turn.db, id)
  if (!row || row.takenAwayAt !== null) throw new Refusal('not-found', 'That piece of evidence is gone already.')
  return { row, tag: store.tagOfUnit(turn.db, row.unitId) }
}

/** Which pieces there are, for the screen of a unit; what is drawn of them is asked for by itself. */
export const evidenceMarks = (sight: Sight, unitId: string): { id: string; check: string | null; isShown: boolean }[] =>
  store.evidenceOf(sight.db, unitId).map(({ id, checkKey, shownAt }) => ({ id, check: checkKey, isShown: shownAt !== null }))

/** What is kept beside the readings of a unit, for the bench. */
export function evidenceViews(sight: Sight, { unit, standing }: Pick<UnitState, 'unit' | 'standing'>): EvidenceView[] {
  const rows = store.evidenceOf(sight.db, unit.id)
  const people = peopleById(
    sight.db,
    rows.map(({ byPersonId }) => byPersonId),
  )
  const files = new Map(
    store
      .keptFilesOf(
        sight.db,
        rows.map(({ sha }) => sha),
      )
      .map((file) => [`${file.sha}.${file.kind}`, file]),
  )
  const sizes = store.recordingSizes(
    sight.db,
    rows.flatMap(({ kind, sha }) => (kind === 'recording' ? [sha] : [])),
  )
  const current = new Set([...standing.states.values()].flatMap(({ current }) => current ?? []))
  return rows.map(({ id, checkKey, readingId, kind, sha, ending, name, words, at, byPersonId, shownAt }) => {
    const file = files.get(`${sha}.${ending}`)
    return {
      id,
      check: checkKey,
      isOfEarlier: readingId !== null && !current.has(readingId),
      kind,
      sha,
      ending,
      bytes: file?.bytes ?? sizes.get(sha) ?? null,
      name,
      words,
      at,
      by: people.get(byPersonId)?.name ?? '',
      isShown: shownAt !== null,
      sweep: file?.sweep ?? null,
    }
  })
}

/** What of it was chosen for everybody. */
export const shownEvidence = (sight: Sight, unitId: string): ShownEvidence[] =>
  store
    .evidenceOf(sight.db, unitId)
    .filter(({ shownAt }) => shownAt !== null)
    .map(({ checkKey, kind, name, words, sha, at }) => ({ check: checkKey, kind, name, words, sha256: sha, takenAt: at }))

/** Notes a file that was laid on the disk. */
export const keepFile = (turn: Turn, row: store.KeptFileRow): void => store.insertKeptFile(turn.db, row)

/** Whether somebody who is not of the staff may have this file. */
export const mayAnybodyHave = (sight: Sight, sha: string): boolean => store.isShownSomewhere(sight.db, sha)
