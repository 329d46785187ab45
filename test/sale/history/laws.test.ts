import fc from 'fast-check'
import { afterAll, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { decide, type LotCommand } from '#sale/history/decide.rules'
import { apply, type LotFact, type LotState, replay, unopened } from '#sale/history/replay.rules'
import { stepAt } from '#sale/price/ladder.rules'
import { leastNext, type Maximum, type PriceTerms, priceOf } from '#sale/price/price.rules'
import { makeTerms } from '#test/make/lot-history'
import { leastOf, standingOf } from '#test/make/standing'

// `npm run laws` lives through twenty times as many.
const COMMANDS = Number(process.env.LAWS ?? 110_000)
const A_DAY = 60
const bidders = ['2C', '3D', '4F', '5G']
const CEILING = 140_000

interface Real {
  terms: PriceTerms
  state: LotState
  facts: LotFact[]
  arrivals: Maximum[]
}

/** What a lot is, kept in the plainest way: every bid that counts in order, one closing, whether it is held or over. */
interface Model {
  terms: PriceTerms
  now: number
  bids: { bidder: string; maximumMinor: number }[]
  closesAt: number
  heldAt: number | null
  end: string | null
  /** Of the last bid; it goes on counting when bids are voided. */
  sequence: number
}

let lived = 0

const standing = ({ bids, terms }: Model) => standingOf(terms, bids)

/** Whether a command may be, said once more in the words of the trade. */
function mayBe(model: Model, command: LotCommand): boolean {
  const { now, closesAt, heldAt, end } = model
  if (end) return false
  const isDue = heldAt === null && now >= closesAt
  if (command.kind === 'close') return isDue
  if (command.kind === 'outage' && (heldAt !== null || command.to !== now || command.from >= closesAt)) return false
  if (command.kind === 'outage') return isEnough(command.shiftMs, closesAt, command.from, command.to)
  if (command.kind === 'resume') return heldAt !== null && isEnough(command.shiftMs, closesAt, heldAt, now)
  if (isDue) return false
  if (command.kind === 'hold') return heldAt === null
  if (command.kind === 'extend') return command.closesAt > closesAt
  if (command.kind !== 'bid') return true
  const least = leastOf(model.terms, standing(model), command.bidder)
  return heldAt === null && command.maximumMinor >= least && command.maximumMinor <= CEILING
}

/** Time in which nobody could bid is given back, as far as a quarter of an hour. */
const isEnough = (shiftMs: number, closesAt: number, from: number, to: number): boolean =>
  closesAt + shiftMs - to >= Math.min(closesAt - from, 15 * MINUTE)

function happens(model: Model, command: LotCommand): void {
  const { now, closesAt, heldAt } = model
  const before = standing(model)
  switch (command.kind) {
    case 'bid': {
      model.sequence += 1
      model.bids.push({ bidder: command.bidder, maximumMinor: command.maximumMinor })
      const after = standing(model)
      const mattered = after.leader !== before.leader || after.price !== before.price
      if (mattered && closesAt - now < 120 * SECOND) model.closesAt = now + 120 * SECOND
      return
    }
    case 'extend':
      model.closesAt = command.closesAt
      return
    case 'hold':
      model.heldAt = now
      return
    case 'resume':
      model.heldAt = null
      model.closesAt += command.shiftMs
      return
    case 'outage':
      model.closesAt += command.shiftMs
      return
    case 'void':
      model.bids = model.bids.filter(({ bidder }) => bidder !== command.bidder)
      model.closesAt = Math.max(closesAt, (heldAt ?? now) + 15 * MINUTE)
      return
    case 'withdraw':
      model.end = 'withdrawn'
      model.heldAt = null
      return
    case 'close':
      model.end = before.leader !== null && before.maximum >= (model.terms.reserveMinor ?? 0) ? 'sold' : 'unsold'
  }
}

class Say implements fc.Command<Model, Real> {
  constructor(
    readonly wait: number,
    readonly what: (model: Model) => LotCommand,
  ) {}

  check = () => true

  run(model: Model, real: Real): void {
    lived += 1
    model.now += this.wait
    const command = this.what(model)
    const { state } = real
    const decision = decide(state, command, model.now)
    // Asked only where it differs: a hundred thousand assertions would take longer than what they look at.
    if (decision.yes !== mayBe(model, command)) expect(decision).toMatchObject({ yes: mayBe(model, command) })
    if (!decision.yes) {
      if (!/^[A-Z].*\.$/.test(decision.words)) expect(decision.words).toBe('a sentence')
      return
    }
    const { fact } = decision
    if (fact.kind === 'bid') real.arrivals.push(fact)
    real.state = apply(state, fact, real.arrivals)
    if (fact.kind === 'voided') real.arrivals = real.arrivals.filter(({ bidder }) => bidder !== fact.bidder)
    real.facts.push(fact)
    happens(model, command)
    look(model, real, state, command)
  }

  toString = () => `after ${this.wait} ms: ${this.what.toString()}`
}

/** The laws, after every command that was taken. */
function look(model: Model, { state, terms }: Real, before: LotState, command: LotCommand): void {
  const price = priceOf(terms, state)?.priceMinor ?? 0
  const was = priceOf(terms, before)?.priceMinor ?? 0
  const own = standing(model)
  if (state.leader?.bidder !== (own.leader ?? undefined) || price !== own.price)
    expect([state.leader?.bidder, price]).toEqual([own.leader, own.price])
  if (state.closesAt !== model.closesAt) expect(state.closesAt).toBe(model.closesAt)
  if (command.kind !== 'void' && price < was) expect(price, 'the standing bid never falls but at a void').toBeGreaterThanOrEqual(was)
  if ((state.closesAt ?? 0) < (before.closesAt ?? 0)) expect(state.closesAt, 'a closing never moves earlier').toBe(before.closesAt)
  if (state.leader) {
    const over = state.second ? state.second.maximumMinor + stepAt(terms.ladder, state.second.maximumMinor) : 0
    const reserve = terms.reserveMinor !== null && state.leader.maximumMinor >= terms.reserveMinor ? terms.reserveMinor : 0
    const most = Math.min(state.leader.maximumMinor, Math.max(terms.openingMinor, over, reserve))
    if (price > most) expect(price, 'nobody pays more than their maximum, nor more than the rule').toBeLessThanOrEqual(most)
  }
  if (command.kind === 'bid' && leastNext(terms, price) <= price) expect(leastNext(terms, price)).toBeGreaterThan(price)
  if (model.end !== null && state.phase !== model.end) expect(state.phase, 'a lot has one end').toBe(model.end)
}

const wait = fc.oneof(
  { weight: 4, arbitrary: fc.integer({ min: 0, max: 40 * SECOND }) },
  { weight: 1, arbitrary: fc.constantFrom(0, 1, 119_999, 120_000) },
)
const say = (weight: number, what: fc.Arbitrary<(model: Model) => LotCommand>) => ({
  weight,
  arbitrary: fc.tuple(wait, what).map(([waited, made]) => new Say(waited, made)),
})
const amount = fc.integer({ min: 1, max: 150_000 })
const shift = fc.integer({ min: 0, max: 15 * MINUTE })
const bidder = fc.constantFrom(...bidders)
const anyCommand = fc.oneof(
  say(
    12,
    // Near the least bid as often as anywhere, and at the very closing now and then.
    fc.tuple(bidder, amount, fc.constantFrom(-1, 0, 1, null)).map(([who, free, near]) => (model) => {
      const { leader, price, maximum } = standing(model)
      const least =
        leader === null
          ? model.terms.openingMinor
          : leader === who
            ? maximum + stepAt(model.terms.ladder, maximum)
            : leastNext(model.terms, price)
      const maximumMinor = near === null ? free : Math.max(1, least + near)
      return { kind: 'bid', bidder: who, maximumMinor, ceilingMinor: CEILING, sequence: model.sequence + 1 }
    }),
  ),
  say(
    1,
    fc.constant(() => ({ kind: 'hold', reason: 'Sound.' })),
  ),
  say(
    2,
    shift.map((shiftMs) => () => ({ kind: 'resume', shiftMs })),
  ),
  say(
    1,
    fc.tuple(shift, fc.constantFrom(0, 0, 0, 1000)).map(([shiftMs, away]) => ({ now }) => ({
      kind: 'outage',
      from: now - 6000,
      to: now + away,
      shiftMs,
    })),
  ),
  say(
    1,
    bidder.map((who) => () => ({ kind: 'void', bidder: who, reason: 'In error.' })),
  ),
  say(
    1,
    fc.integer({ min: -2, max: 9 }).map((minutes) => ({ closesAt }) => ({
      kind: 'extend',
      closesAt: closesAt + minutes * MINUTE,
      reason: 'More.',
    })),
  ),
  say(
    1,
    fc.constant(() => ({ kind: 'correct', words: 'It is beech.' })),
  ),
  say(
    2,
    fc.constant(() => ({ kind: 'close' })),
  ),
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.integer({ min: 0, max: 5 }), wait)
      .map(([end, waited]) => new Say(waited, () => (end === 0 ? { kind: 'withdraw', reason: 'Broken.' } : { kind: 'close' }))),
  },
)

const ladder = fc.array(fc.tuple(fc.integer({ min: 1, max: 40_000 }), fc.integer({ min: 0, max: 2_000 })), { maxLength: 4 }).map((more) => {
  const rungs = [{ fromMinor: 0, stepMinor: 1 + (more[0]?.[1] ?? 199) }]
  for (const [wider, higher] of more) {
    const last = rungs[rungs.length - 1] ?? { fromMinor: 0, stepMinor: 1 }
    rungs.push({ fromMinor: last.fromMinor + wider, stepMinor: last.stepMinor + higher })
  }
  return rungs
})
const opening = fc.record({
  openingMinor: amount,
  reserveMinor: fc.option(amount),
  ladder,
  closesAt: fc.integer({ min: 1, max: 20 * MINUTE }),
})

describe('whatever happens to a lot, under whatever ladder', () => {
  it('the rule answers as the plain model does, every law holds, and replaying the facts gives the same state', () => {
    fc.assert(
      fc.property(opening, fc.commands([anyCommand], { maxCommands: A_DAY, size: 'max' }), ({ closesAt, ...wishes }, commands) => {
        const terms = makeTerms(wishes)
        const opened: LotFact = { kind: 'opened', at: 0, closesAt }
        const real: Real = { terms, state: apply(unopened(terms), opened, []), facts: [opened], arrivals: [] }
        fc.modelRun(() => ({ model: { terms, now: 0, bids: [], closesAt, heldAt: null, end: null, sequence: 0 }, real }), commands)
        expect(replay(terms, real.facts)).toEqual(real.state)
        const end = real.facts.findIndex(({ kind }) => kind === 'closed' || kind === 'withdrawn')
        if (end >= 0) expect(end, 'nothing comes after the end').toBe(real.facts.length - 1)
      }),
      { numRuns: Math.ceil(COMMANDS / 28) },
    )
  }, 3_600_000)

  afterAll(() => expect(lived, 'commands lived through').toBeGreaterThanOrEqual(Math.min(COMMANDS, 100_000)))
})

describe('the rule is total', () => {
  it('any amount of any kind gets an answer in words, never a throw', () => {
    const state = apply(unopened(makeTerms()), { kind: 'opened', at: 0, closesAt: MINUTE }, [])
    fc.assert(
      fc.property(fc.double(), fc.double(), (maximumMinor, now) => {
        const decision = decide(state, { kind: 'bid', bidder: '4K', maximumMinor, ceilingMinor: CEILING, sequence: 1 }, now)
        expect(decision.yes || decision.words.length > 0).toBe(true)
      }),
    )
  })
})
