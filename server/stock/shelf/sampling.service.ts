import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import { needPhotograph } from '#people/photographs/photograph.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { hasPieces } from '../catalogue/part.rules'
import { changeBatch } from './batch.service'
import { countsAsGood } from './piece.rules'
import { type Aql, goodWith, type Level, leastToTest, piecesToAskFor, planVerdict, samplingFor } from './sampling.rules'
import { insertPlan, insertTest, nextTestSeq, planRows, type TestRow, testRows } from './sampling.store'
import type { batchTestIn, samplingIn } from './shelf.contract'
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
}

const SMALL = 50

/** How far the testing of each of these batches of one part is, and what is believed of the rest. */
export function samplingOf(sight: Sight, cards: readonly BatchCard[]): SamplingCard[] {
  const ids = cards.map(({ id }) => id)
  const plans = new Map(planRows(sight.db, ids).map((row) => [row.batchId, row]))
  const tests = groupBy(testRows(sight.db, ids), ({ batchId }) => batchId)
  return cards.map((card) => {
    const own = tests.get(card.id) ?? []
    const seen = hasPieces(card.part) ? piecesSeen(card) : testsSeen(card, own)
    const untested = Math.max(0, card.quantity - card.fitted - seen.tested)
    const plan = plans.get(card.id)
    const suspected = Math.max(1, Math.ceil(card.quantity / 10))
    return {
      batchId: card.id,
      plan: plan ? { level: plan.level, aql: plan.aql, sample: plan.sample, accept: plan.accept, verdict: planVerdict(plan, seen) } : null,
      isEach: hasPieces(card.part),
      ...seen,
      untested,
      goodUntested: goodWith(seen, untested, CONFIDENCE),
      small:
        card.quantity > 1 && card.quantity <= SMALL ? { bad: suspected, test: leastToTest(card.quantity, suspected, CONFIDENCE) } : null,
      tests: own,
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

/** Bad ones that were noted without a count of the tested were tested all the same. */
function testsSeen({ bad: noted }: BatchCard, tests: readonly TestRow[]): { tested: number; bad: number } {
  const bad = tests.reduce((sum, row) => sum + row.bad, 0)
  const beside = Math.max(0, noted - bad)
  return { tested: tests.reduce((sum, row) => sum + row.tested, 0) + beside, bad: bad + beside }
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
  const row = { tested, bad, reader, symptom, photoSha: photoSha || null, at: turn.now, byPersonId: actor.personId }
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
