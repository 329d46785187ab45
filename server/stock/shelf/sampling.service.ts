import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import { needPhotograph } from '#people/photographs/photograph.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { hasPieces } from '../catalogue/part.rules'
import { changeBatch } from './batch.service'
import { drawAtRandom, type Spread, spreadOf } from './draw.rules'
import { goodInMachines } from './fitted.service'
import { countsAsGood } from './piece.rules'
import { isBarred, sampledOf } from './rejected.rules'
import { type Aql, goodWith, type Level, leastToTest, piecesToAskFor, planVerdict, samplingFor } from './sampling.rules'
import {
  insertPlan,
  insertTest,
  insertWaiver,
  nextTestSeq,
  planRows,
  type TestRow,
  testRows,
  type WaiverRow,
  waiverRows,
} from './sampling.store'
import type { batchTestIn, samplingIn, waiveIn } from './shelf.contract'
import { type BatchCard, batchCard } from './stock.service'

/** With which what is believed of untested pieces is said. */
const CONFIDENCE = 0.9

export interface SamplingCard {
  batchId: string
  /** The plan that was fixed; null while none is. */
  plan: { level: Level; aql: Aql; sample: number; accept: number; verdict: 'going on' | 'accepted' | 'rejected' } | null
  /** Each is to be tested: programmed parts, and what has a tag of its own. */
  isEach: boolean
  tested: number
  bad: number
  untested: number
  /** At least so many of the untested are believed to be good, with 90 %. */
  goodUntested: number
  /** For a small batch: if so many were bad, testing this many would find one with 90 %. */
  small: { bad: number; test: number } | null
  tests: TestRow[]
  /** Numbers of the pieces to test by the plan, drawn at random; none without one. */
  draw: number[]
  /** Of what was measured on samples, unit by unit. */
  measured: { unit: string; figures: number[]; spread: Spread }[]
  /** Rejected by its plan, and neither sorted nor waived. */
  isBarred: boolean
  waived: Pick<WaiverRow, 'name' | 'reason' | 'at'> | null
  /** Found good in machines that hold a certificate, and bad in machines or beside the sample: both count in what is believed, neither in the plan. */
  beside: { good: number; bad: number }
}

const SMALL = 50

/** How far the testing of each of these batches of one part is, and what is believed of the rest. */
export function samplingOf(sight: Sight, cards: readonly BatchCard[]): SamplingCard[] {
  const ids = cards.map(({ id }) => id)
  const plans = new Map(planRows(sight.db, ids).map((row) => [row.batchId, row]))
  const waivers = new Map(waiverRows(sight.db, ids).map((row) => [row.batchId, row]))
  const machines = goodInMachines(sight, ids)
  const tests = groupBy(testRows(sight.db, ids), ({ batchId }) => batchId)
  return cards.map((card) => {
    const own = tests.get(card.id) ?? []
    const sampled = hasPieces(card.part) ? piecesSeen(card) : sampledOf(own)
    const beside = hasPieces(card.part)
      ? { good: 0, bad: 0 }
      : { good: machines.get(card.id) ?? 0, bad: Math.max(0, card.bad - sampled.bad) }
    const seen = { tested: sampled.tested + beside.bad, bad: sampled.bad + beside.bad }
    const known = { tested: seen.tested + beside.good, bad: seen.bad }
    const untested = Math.max(0, card.quantity - card.fitted - seen.tested)
    const plan = plans.get(card.id)
    const waiver = waivers.get(card.id)
    const suspected = Math.max(1, Math.ceil(card.quantity / 10))
    return {
      batchId: card.id,
      plan: plan
        ? { level: plan.level, aql: plan.aql, sample: plan.sample, accept: plan.accept, verdict: planVerdict(plan, sampled) }
        : null,
      isEach: hasPieces(card.part),
      ...seen,
      untested,
      goodUntested: goodWith(known, untested, CONFIDENCE),
      small:
        card.quantity > 1 && card.quantity <= SMALL ? { bad: suspected, test: leastToTest(card.quantity, suspected, CONFIDENCE) } : null,
      tests: own,
      draw: plan ? drawAtRandom(card.quantity, plan.sample, `${card.id} ${plan.at}`) : [],
      measured: measuredIn(own),
      isBarred: isBarred({ plan, sampled, untested, isWaived: waiver !== undefined }),
      waived: waiver ? { name: waiver.name, reason: waiver.reason, at: waiver.at } : null,
      beside,
    }
  })
}

/** How many more pieces to ask for, to have `needed` good ones of this batch with 90 %; null: more than anybody gives. */
export function moreToAskFor({ tested, bad, untested }: SamplingCard, needed: number): number | null {
  return needed === 0 ? 0 : piecesToAskFor({ needed, quantity: tested + untested, tested, bad, confidence: CONFIDENCE })
}

function piecesSeen({ loose, part }: BatchCard): { tested: number; bad: number } {
  const looked = loose.filter(({ verdict }) => verdict !== 'not inspected')
  return { tested: looked.length, bad: looked.filter(({ verdict }) => !countsAsGood(verdict, part.programmed)).length }
}

function measuredIn(tests: readonly TestRow[]): SamplingCard['measured'] {
  const units = groupBy(
    tests.filter(({ figures }) => figures.length > 0),
    ({ unit }) => unit,
  )
  return [...units].flatMap(([unit, rows]) => {
    const figures = rows.flatMap((row) => row.figures)
    const spread = spreadOf(figures)
    return spread ? [{ unit, figures, spread }] : []
  })
}

/** A rejected batch goes into machines all the same, by name and with a reason that their records carry. */
export function waiveBatch(turn: Turn, actor: Actor, { batchId, name, reason }: z.output<typeof waiveIn>): SamplingCard {
  const card = batchCard(turn, batchId)
  if (!card.isBarred) throw Refusal.at('batchId', `${card.code} is not rejected by its plan, so there is nothing to waive.`, 'conflict')
  insertWaiver(turn.db, { batchId, name, reason, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'batch.waived', subject: `batch:${card.code}`, body: { batchId, code: card.code, name, reason } })
  return samplingCard(turn, batchId)
}

/** Why batches that their plan rejected went into machines all the same: by batch. */
export const waiversOf = (sight: Sight, batchIds: readonly string[]): Map<string, string> =>
  new Map(waiverRows(sight.db, batchIds).map(({ batchId, reason }) => [batchId, reason]))

/** The figures of a sample as written: "99.8 100.2, 101"; a decimal comma is read where no space follows it. */
function figuresIn(written: string): number[] {
  const words = written
    .normalize('NFKC')
    .replaceAll('−', '-')
    .split(/[\s;]+/)
    .map((word) => (word.endsWith(',') ? word.slice(0, -1) : word).replace(',', '.'))
    .filter(Boolean)
  const wrong = words.find((word) => !/^-?\d{1,12}(\.\d{1,12})?$/.test(word))
  if (wrong !== undefined)
    throw Refusal.at('figures', `"${wrong.slice(0, 30)}" is not a figure. Write figures with a space between, such as 99.8 100.2.`)
  if (words.length > 200) throw Refusal.at('figures', 'Keep at most 200 figures at a time.')
  return words.map(Number)
}

/** Fixes which of a batch are tested and how many bad are allowed, before the first is: a plan chosen afterwards proves nothing. */
export function fixSampling(turn: Turn, actor: Actor, { batchId, level, aql }: z.output<typeof samplingIn>): SamplingCard {
  const card = batchCard(turn, batchId)
  const [now] = samplingOf(turn, [card])
  if (now?.plan)
    throw new Refusal('conflict', `The plan for ${card.code} is fixed: ${now.plan.sample} are tested, ${now.plan.accept} may be bad.`)
  if (now && now.tests.length > 0)
    throw new Refusal('conflict', `Some of ${card.code} were tested already. Go on testing; a plan chosen now would prove nothing.`)
  const sampling = samplingFor({ quantity: card.quantity, programmed: hasPieces(card.part), level, aql })
  if (sampling.how === 'all') {
    const words =
      sampling.why === 'programmed'
        ? `${card.part.words} has tags, and each is inspected.`
        : `${card.code} is small: test all ${card.quantity}.`
    throw Refusal.at('aql', words, 'conflict')
  }
  insertPlan(turn.db, { batchId, level, aql, sample: sampling.sample, accept: sampling.accept, at: turn.now, byPersonId: actor.personId })
  turn.record({
    kind: 'batch.sampling-fixed',
    subject: `batch:${card.code}`,
    body: { batchId, level, aql, sample: sampling.sample, accept: sampling.accept },
  })
  return samplingCard(turn, batchId)
}

/** Some of a batch were tested: how many, and how many of them are bad; the bad ones are taken from what is in hand. */
export function testBatch(turn: Turn, actor: Actor, input: z.output<typeof batchTestIn>): SamplingCard {
  const { batchId, tested, bad, reader, symptom, photoSha } = input
  const card = batchCard(turn, batchId)
  if (hasPieces(card.part)) throw Refusal.at('tested', `${card.part.words} has tags: inspect each piece by its tag.`)
  if (bad > tested) throw Refusal.at('bad', `Of ${tested} tested at most ${tested} can be bad.`)
  const { untested } = samplingCard(turn, batchId)
  if (tested > untested)
    throw Refusal.at('tested', `Only ${untested} of ${card.code} were not tested yet. Count again, or correct the count of the batch.`)
  if (bad > 0 && symptom === '') throw Refusal.at('symptom', 'Say what was seen on the bad ones.')
  if (photoSha !== '') needPhotograph(turn, photoSha, 'photoSha')
  const figures = figuresIn(input.figures)
  if (figures.length > tested) throw Refusal.at('figures', `${figures.length} figures are written, and ${tested} were tested.`)
  if (figures.length > 0 && input.unit === '') throw Refusal.at('unit', 'Write the unit of the figures, such as kΩ.')
  const unit = figures.length > 0 ? input.unit : ''
  const common = { at: turn.now, byPersonId: actor.personId }
  const row = { tested, bad, reader, symptom, photoSha: photoSha || null, figures, unit, ...common }
  insertTest(turn.db, { id: turn.dice.id(), batchId, seq: nextTestSeq(turn.db, batchId), ...row })
  if (bad > 0) changeBatch(turn, actor, card, 'bad', { bad: card.bad + bad }, symptom)
  turn.record({ kind: 'batch.tested', subject: `batch:${card.code}`, body: { batchId, tested, bad } })
  return samplingCard(turn, batchId)
}

function samplingCard(sight: Sight, batchId: string): SamplingCard {
  const [card] = samplingOf(sight, [batchCard(sight, batchId)])
  if (!card) throw new Refusal('not-found', 'There is no such batch.')
  return card
}
