import { setImmediate as nextTurn } from 'node:timers/promises'
import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { type PartCard, partsById } from '#stock/catalogue/part.service'
import { listDonors } from '#stock/donors/donor.service'
import { outstandingPromises } from '#stock/donors/gift.service'
import { listBatches } from '#stock/shelf/batch.service'
import { type BatchCard, batchCards, stockOf } from '#stock/shelf/stock.service'
import { getDesign } from '../designs/designs.service'
import { substitutesOf } from '../designs/substitutes.service'
import { listRoster } from '../units/roster.service'
import type { BuildAnswer, BuildQuestion, Coming, UnitPlan } from './build.contract'
import type { Builder } from './builder'
import { unitNeeds } from './needs.service'
import { type PacePage, readPace } from './pace.service'
import { expectedDays, type Readiness, readiness } from './plan.service'

export interface ComingLine {
  giftId: string
  donorId: string
  donorName: string
  quantity: number
  isOnItsWay: boolean
  expectedOn: string | null
}

export interface DesignColumn {
  lineId: string
  part: PartCard
  designators: string[]
  quantity: number
  instead: string[]
}

export interface BuildRow extends UnitPlan {
  tag: string
  importance: 1 | 2 | 3
  isInTime: boolean
}

export interface BuildPage {
  designs: { designId: string; name: string; columns: DesignColumn[]; units: BuildRow[] }[]
  /** Units that lack nothing any more, and those that are set aside. */
  full: string[]
  aside: string[]
  unblockers: { part: PartCard; short: number; gain: number; frees: string[]; waiting: string[]; coming: ComingLine[] }[]
  shortfall: ShortLine[]
  delays: (Omit<BuildAnswer['delays'][number], 'misses'> & {
    donorName: string
    lines: { what: string; quantity: number }[]
    misses: string[]
  })[]
  undated: (ComingLine & { what: string })[]
  ready: Readiness
  pace: PacePage
}

export interface ShortLine {
  part: PartCard
  short: number
  /** In hand, of a programmed part, and not read yet. */
  unread: number
  quarantined: number
  onItsWay: number
  promised: number
  /** Neither in hand, nor on its way, nor promised. */
  missing: number
  units: string[]
}

const answers = new WeakMap<Sight['db'], { asked: string; answer: Promise<BuildAnswer> }>()

/** The same question is answered once: pages ask it at every look. */
function answerTo(sight: Sight, builder: Builder, question: BuildQuestion): Promise<BuildAnswer> {
  const asked = JSON.stringify(question)
  const before = answers.get(sight.db)
  if (before?.asked === asked) return before.answer
  const answer = builder.make(question)
  answers.set(sight.db, { asked, answer })
  answer.catch(() => answers.delete(sight.db))
  return answer
}

/**
 * What can be built, unit by unit and line by line, what would unblock most and what a late parcel costs. Designs of thousands of
 * lines take long to read: between one piece and the next the loop turns, so that no bid waits for all of them.
 */
export async function readBuild(sight: Sight, builder: Builder): Promise<BuildPage> {
  const cards = batchCards(sight, listBatches(sight))
  const units = unitNeeds(sight)
  await nextTurn()
  const coming = comingGifts(sight)
  const ready = readiness(sight)
  const question = {
    units,
    stock: stockOf(cards),
    coming: coming.map(({ line: _line, ...one }) => one),
    lastUsefulDay: ready.lastUsefulDay,
  }
  const answer = await answerTo(sight, builder, question)
  await nextTurn()
  const parts = partsById(sight, [
    ...units.flatMap((unit) => unit.lines.map(({ partId }) => partId)),
    ...coming.map(({ partId }) => partId),
  ])
  const tags = new Map(units.map(({ unitId, tag }) => [unitId, tag]))
  const named = (unitIds: readonly string[]) => unitIds.flatMap((unitId) => tags.get(unitId) ?? [])
  const comingOf = groupBy(coming, ({ partId }) => partId)
  const plans = new Map(answer.units.map((plan) => [plan.unitId, plan]))
  const roster = listRoster(sight)
  const designs: BuildPage['designs'] = []
  for (const [designId, own] of groupBy(units, (unit) => unit.designId)) {
    await nextTurn()
    const built = own.flatMap(({ unitId, tag, importance }) => {
      const plan = plans.get(unitId)
      return plan ? [{ ...plan, tag, importance, isInTime: answer.inTime.includes(unitId) }] : []
    })
    designs.push({ designId, name: own[0]?.designName ?? '', columns: columnsOf(sight, designId), units: built })
  }
  await nextTurn()
  const full = roster.filter(({ id, setAsideAt }) => !plans.has(id) && setAsideAt === null)
  const buildable = units.filter(({ unitId }) => plans.get(unitId)?.buildable)
  const pace = readPace(sight, { full: new Set(full.map(({ id }) => id)), buildable })
  await nextTurn()
  return {
    designs,
    full: full.map(({ tag }) => tag),
    aside: roster.filter(({ setAsideAt }) => setAsideAt !== null).map(({ tag }) => tag),
    unblockers: answer.unblockers.flatMap(({ partId, ...row }) => {
      const part = parts.get(partId)
      return part ? [{ part, ...row, coming: (comingOf.get(partId) ?? []).map(({ line }) => line) }] : []
    }),
    shortfall: shortLines({ answer, tags, parts, cards }),
    delays: answer.delays.map(({ misses, ...delay }) => {
      const own = coming.filter(({ parcel, expectedOn }) => parcel === delay.parcel && expectedOn !== null)
      const lines = own.map(({ partId, quantity }) => ({ what: parts.get(partId)?.words ?? '', quantity }))
      return { ...delay, donorName: own[0]?.line.donorName ?? '', lines, misses: named(misses) }
    }),
    undated: coming
      .filter(({ expectedOn }) => expectedOn === null)
      .map(({ line, partId }) => ({ ...line, what: parts.get(partId)?.words ?? '' })),
    ready,
    pace,
  }
}

function columnsOf(sight: Sight, designId: string): DesignColumn[] {
  const accepted = substitutesOf(sight, designId)
  return getDesign(sight, designId).lines.map(({ id: lineId, part, designators, quantity }) => {
    return { lineId, part, designators, quantity, instead: (accepted.get(lineId) ?? []).map((one) => one.part.words) }
  })
}

function comingGifts(sight: Sight): (Coming & { line: ComingLine })[] {
  const expected = expectedDays(sight)
  const names = new Map(listDonors(sight).map(({ id, name }) => [id, name]))
  return outstandingPromises(sight).flatMap(({ giftId, donorId, partId, quantity, state, onlyForUnitId, onlyForDesignId }) => {
    if (partId === null) return []
    const expectedOn = expected.get(giftId) ?? null
    const isOnItsWay = state === 'on its way'
    const line = { giftId, donorId, donorName: names.get(donorId) ?? '', quantity, isOnItsWay, expectedOn }
    return [{ giftId, parcel: donorId, partId, quantity, isOnItsWay, expectedOn, onlyForUnitId, onlyForDesignId, line }]
  })
}

/** Made once: to make it for each comparison takes longer than all of them. */
const IN_ORDER = new Intl.Collator('en')

interface ShortFacts {
  answer: BuildAnswer
  tags: ReadonlyMap<string, string>
  parts: ReadonlyMap<string, PartCard>
  cards: readonly BatchCard[]
}

function shortLines({ answer, tags, parts, cards }: ShortFacts): ShortLine[] {
  const cardsOf = groupBy(cards, ({ partId }) => partId)
  const rows = new Map<string, ShortLine>()
  for (const { unitId, lines } of answer.units) {
    for (const { partId, onItsWay, promised, missing } of lines) {
      const part = parts.get(partId)
      if (!part || onItsWay + promised + missing === 0) continue
      const row = rows.get(partId) ?? {
        part,
        short: 0,
        ...heldBack(cardsOf.get(partId) ?? []),
        onItsWay: 0,
        promised: 0,
        missing: 0,
        units: [],
      }
      row.short += onItsWay + promised + missing
      row.onItsWay += onItsWay
      row.promised += promised
      row.missing += missing
      const tag = tags.get(unitId) ?? ''
      // Units come one after the other, each line of one together.
      if (row.units.at(-1) !== tag) row.units.push(tag)
      rows.set(partId, row)
    }
  }
  return [...rows.values()].sort(
    (a, b) => b.units.length - a.units.length || b.short - a.short || IN_ORDER.compare(a.part.words, b.part.words),
  )
}

/** In the house, and yet not to be fitted. */
const heldBack = (cards: readonly BatchCard[]) => ({
  unread: cards.reduce((sum, { loose, part, state }) => {
    const waits = part.programmed && state === 'available' ? loose.filter(({ verdict }) => verdict === 'not inspected').length : 0
    return sum + waits
  }, 0),
  quarantined: cards.filter(({ state }) => state === 'quarantined').reduce((sum, card) => sum + card.quantity - card.fitted, 0),
})
