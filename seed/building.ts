import { loadUnit } from '#bench/units/unit-state.service'
import { HOUR, type Instant, MINUTE } from '#kernel/instant'
import { batchesFor } from '#stock/shelf/stock.service'
import { stepOn } from './bench'
import { nextKey, type Person, type Telling } from './stage'

export interface BenchPlan {
  tag: string
  /** When work on it began. */
  from: Instant
  /** The check before which work stands now; none: all of them are done. */
  until?: string
  /** What the meter showed, where it is not simply near the nominal. */
  readings?: Record<string, string>
  /** How a failed check was mended, and what it read after; none: it is still being looked for. */
  mended?: Cure & { after: string }
  /** Positions that are filled first, from a bag bought for them. */
  bag?: { designators: string[]; boughtFrom: string; marking: string; holds: number }
  /** Checks taken out of their order to find the fault, with what they read. */
  searched?: Record<string, string>
}

interface Cure {
  fault: string
  changed: string
  designator: string
  /** What it took from the symptom to the cure. */
  minutes: number
}

/**
 * Builds a unit and works down its checklist, each step at its own time: between two of them it gives the time of the next, so
 * that whatever is done on other units meanwhile is told in between. At the end true when nothing is left to do.
 */
export async function* tellUnit({ goTo, house }: Telling, maker: Person, plan: BenchPlan): AsyncGenerator<Instant, boolean> {
  const { tag, mended, until, bag } = plan
  let { readings } = plan
  let at = plan.from
  if (bag) {
    goTo(at)
    await fitFromBag(house, maker, tag, bag)
  }
  for (;;) {
    goTo(at)
    const step = await house.queue.run((turn) => stepOn(turn, maker, { tag, readings, until, varies: true }))
    if (step === null) return until === undefined
    const { minutes, coldStarts = 0 } = step
    for (let start = 0; start < coldStarts; start += 1) {
      yield at + (start * minutes * MINUTE) / coldStarts
      await maker.api.bringup.coldStart({ key: nextKey(), tag, seen: tag })
    }
    at += minutes * MINUTE
    if (!step.failed) {
      yield at
      continue
    }
    if (!mended) {
      goTo(at)
      await search(maker, plan)
      return false
    }
    at += HOUR
    yield at
    await mend(house, maker, { tag, failedCheck: step.check, ...mended })
    readings = { ...readings, [step.check]: mended.after }
  }
}

/** All units, in the order of time whichever is at hand. Whoever waits is told of each as work on it begins; `finish` has what is done. */
export async function tellUnits(
  telling: Telling,
  maker: Person,
  plans: readonly BenchPlan[],
  finish: (tag: string) => Promise<void>,
): Promise<void> {
  let going = plans.map((plan) => ({ tag: plan.tag, at: plan.from, isBegun: false, steps: tellUnit(telling, maker, plan) }))
  while (going.length > 0) {
    const next = going.reduce((earliest, one) => (one.at < earliest.at ? one : earliest))
    if (!next.isBegun) telling.say(`${next.tag} at the bench`)
    next.isBegun = true
    telling.goTo(next.at)
    const { value, done } = await next.steps.next()
    if (!done) next.at = value
    else {
      if (value) await finish(next.tag)
      going = going.filter((one) => one !== next)
    }
  }
}

async function fitFromBag(house: Telling['house'], maker: Person, tag: string, bag: NonNullable<BenchPlan['bag']>): Promise<void> {
  const { designators, boughtFrom, marking, holds } = bag
  const { design } = loadUnit(house.sight(), tag)
  const partId = design.positions.find(({ designator }) => designator === designators[0])?.partId ?? ''
  const find = () => batchesFor(house.sight(), partId).find((batch) => batch.marking === marking && batch.inHand > 0)
  if (!find()) await maker.api.shelf.buy({ partId, boughtFrom, quantity: holds, marking })
  await maker.api.bringup.fit({ key: nextKey(), tag, seen: tag, designators, batchId: find()?.id, iron: true })
}

interface Mending extends Cure {
  tag: string
  failedCheck: string
}

/** The bad piece out, another of its batch in, with an iron; then the fault is closed. */
async function mend(
  house: Telling['house'],
  maker: Person,
  { tag, failedCheck, fault, changed, designator, minutes }: Mending,
): Promise<void> {
  const sight = house.sight()
  const position = loadUnit(sight, tag).design.positions.find((one) => one.designator === designator)
  const batch = batchesFor(sight, position?.partId ?? '').find(({ inHand }) => inHand > 0)
  const changes = [{ designator, outReason: fault, inBatchId: batch?.id }]
  await maker.api.bringup.rework({ key: nextKey(), tag, seen: tag, iron: true, failedCheck, fault, changed, changes })
  await maker.api.faults.close({ key: nextKey(), tag, cause: 'part', designator, changed, minutes: String(minutes) })
}

async function search(maker: Person, { tag, searched = {} }: BenchPlan): Promise<void> {
  for (const [check, entry] of Object.entries(searched)) await maker.api.bringup.search({ key: nextKey(), tag, seen: tag, check, entry })
}
