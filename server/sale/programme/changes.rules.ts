import type { Instant } from '#kernel/instant'
import { PROGRAMME_CHANGED } from '../price/closing.rules'
import { lateBidReason } from '../price/late-bid.rules'
import type { DayChange, DayChangeKind, RemovedItem } from './changes.contract'

/** A fact as it was recorded, in order. */
export interface DayFact {
  seq: number
  at: Instant
  kind: string
  subject: string
  body: Record<string, unknown>
}

/** The facts from which changes are told; the database keeps an index of exactly these. */
export const DAY_FACTS = [
  'closings.held',
  'closings.resumed',
  'lot.closed',
  'lot.extended',
  'lot.held',
  'lot.opened',
  'lot.outage',
  'lot.planned',
  'lot.resumed',
  'lot.stands',
  'lot.withdrawn',
  'programme.announced',
  'programme.moved',
  'programme.planned',
  'programme.removed',
] as const

const STOOD = 'All clocks stood still.'
const WAS_DOWN = 'The house was down near the closing.'

/**
 * What everybody is told, the oldest first. What was not announced when it happened is left out, and so is a hold of each
 * single lot where all were held together, and a resumption that moved it by what is said of all, or not at all.
 */
export function changesOf(facts: readonly DayFact[], titleOf: (lot: number) => string | null): DayChange[] {
  const together = new Set(
    facts.flatMap(({ kind, at, body }) =>
      kind.startsWith('closings.') ? numbersIn(body.lots).map((lot) => `${kind.slice('closings.'.length)} ${lot} ${at}`) : [],
    ),
  )
  const goingOn = new Map(
    facts.flatMap(({ kind, at, body }) => (kind === 'closings.resumed' ? [[at, numberIn(body.shiftMs)] as const] : [])),
  )
  const closesAt = new Map<number, Instant>()
  return facts.flatMap((fact) => {
    const { kind, at, body } = fact
    const lot = /^lot:(\d+)$/.exec(fact.subject)?.[1] ? Number(fact.subject.slice('lot:'.length)) : numberIn(body.lot)
    const title = lot === null ? String(body.title ?? 'The programme') : titleOf(lot)
    const before = lot === null ? null : (closesAt.get(lot) ?? null)
    const after = numberIn(body.closesAt)
    if (lot !== null && after !== null) closesAt.set(lot, after)
    if (title === null) return []
    const told = (what: DayChangeKind, more: Partial<DayChange> = {}): DayChange[] => [
      { id: fact.seq, at, kind: what, title, lot, from: null, to: null, shiftMs: null, hammerMinor: null, why: reasonIn(body), ...more },
    ]
    switch (kind) {
      case 'programme.announced':
        return told('announced')
      case 'programme.planned':
        return body.isAnnounced === true ? told('added', { to: numberIn(body.startsAt) }) : []
      case 'programme.moved':
        if (body.isAnnounced !== true) return []
        return body.from === body.to
          ? told('ends', { from: numberIn(body.endedAt), to: numberIn(body.endsAt) })
          : told('moved', { from: numberIn(body.from), to: numberIn(body.to) })
      case 'programme.removed':
        return body.isAnnounced === true ? told('removed', { from: numberIn(body.startsAt) }) : []
      case 'closings.held':
        return told('held')
      case 'closings.resumed':
        return told('resumed', { shiftMs: numberIn(body.shiftMs) })
      case 'lot.held':
        return together.has(`held ${lot} ${at}`) ? [] : told('held')
      case 'lot.resumed':
        if (!together.has(`resumed ${lot} ${at}`)) return told('resumed', { from: before, to: after })
        return isOtherShift(before, after, goingOn.get(at) ?? null) ? told('extended', { from: before, to: after, why: STOOD }) : []
      case 'lot.planned':
        return goingOn.has(at) && isOtherShift(before, after, goingOn.get(at) ?? null)
          ? told('moved', { from: before, to: after, why: STOOD })
          : []
      case 'lot.extended':
        if (body.reason === PROGRAMME_CHANGED) return []
        return told('extended', {
          from: before,
          to: after,
          ...(body.by === 'rule' && { why: typeof body.why === 'string' ? body.why : lateBidReason() }),
        })
      case 'lot.outage':
        return told('extended', { from: before, to: after, why: WAS_DOWN })
      case 'lot.withdrawn':
        return told('withdrawn')
      case 'lot.closed':
        return body.result === 'sold' ? told('sold', { hammerMinor: numberIn(body.hammerMinor) }) : told('unsold')
      case 'lot.stands':
        return told(body.standsMinor === 0 ? 'fell through' : 'stands', { hammerMinor: numberIn(body.standsMinor) })
      default:
        return []
    }
  })
}

const isOtherShift = (before: Instant | null, after: Instant | null, shiftMs: number | null): boolean =>
  before !== null && after !== null && after > before && after - before !== shiftMs

/** Guests and breaks that were announced and taken out again. */
export const removedOf = (facts: readonly DayFact[]): RemovedItem[] =>
  facts.flatMap(({ kind, at, body }) => {
    if (kind !== 'programme.removed' || body.isAnnounced !== true) return []
    const { uid, title, startsAt, endsAt, sequence } = body
    const isWhole = typeof uid === 'string' && [startsAt, endsAt, sequence].every((one) => typeof one === 'number')
    return isWhole
      ? [{ uid, title: String(title), startsAt: Number(startsAt), endsAt: Number(endsAt), sequence: Number(sequence), at }]
      : []
  })

const numberIn = (value: unknown): number | null => (typeof value === 'number' ? value : null)
const numbersIn = (value: unknown): number[] => (Array.isArray(value) ? value.filter((one) => typeof one === 'number') : [])
const reasonIn = ({ reason }: Record<string, unknown>): string => (typeof reason === 'string' ? reason : '')
