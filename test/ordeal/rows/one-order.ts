import { join } from 'node:path'
import { DAY } from '#kernel/instant'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { lotFrame } from '#sale/bidding/frames.service'
import { placeTypedBid } from '#sale/bidding/place-bid.service'
import type { BidAnswer } from '#sale/bids/bids.contract'
import type { PriceTerms } from '#sale/price/price.rules'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { makeTerms } from '#test/make/lot-history'
import { openStage } from '#test/stage'
import { furnish } from '../furnish'
import { dataOf } from '../hand'
import { checkOrder, type Lot, type Operation } from '../order'
import { PLANTED, soundOrder, withMistake } from '../planted-orders'
import { serveHouse } from '../served'
import { between, Lie, type Row, type Trial } from '../trial'
import { someAddress } from '../work'

const CLIENTS = 64
/** Of one lot: then the next one has its turn, and what was seen of this one is checked. */
const OPERATIONS = 4_000
const CLOCK_MAY_DIFFER_MS = 2_000

export const oneOrder: Row = {
  id: 'R6',
  what: '64 clients at once, checked as one order',
  goal: '5,000,000 operations, 20 of 20 planted mistakes found',
  times: 5_000_000,
  unit: 'operations',
  weight: 1.5,
  run,
}

function takenOf({ alias, leads, standingMinor, closesAt, receipt: { leaf } }: BidAnswer) {
  if (leaf.kind !== 'bid') throw new Error('the receipt of a bid is for a bid')
  return { alias, leads, standingMinor, closesAt, sequence: leaf.sequence, at: Date.parse(leaf.at) }
}
const readOf = ({ bids, standingMinor, leaderAlias, closesAt }: LotFrame) =>
  ({ kind: 'read', bids, standingMinor, leader: leaderAlias, closesAt: closesAt ?? 0 }) as const

async function run(trial: Trial): Promise<void> {
  const found = plant(trial)
  const overHttp = await throughHttp(trial)
  const inProcess = await throughQueue(trial)
  trial.note(
    `${found} of ${Object.keys(PLANTED).length} planted mistakes found; ${overHttp} operations through HTTP, ${inProcess - overHttp} given to the queue of a house within the process`,
  )
}

function plant({ chance }: Trial): number {
  const { lot, operations } = soundOrder(chance, makeTerms({ reserveMinor: 9_000 }))
  const missed = Object.entries(PLANTED).filter(([, change]) => checkOrder(lot, withMistake(operations, change)).length === 0)
  const wrong = checkOrder(lot, operations)
  if (wrong.length > 0 || missed.length > 0)
    throw new Error(`the checker of orders does not tell right from wrong: ${[...wrong, ...missed.map(([name]) => name)].join('; ')}`)
  return Object.keys(PLANTED).length
}

function holdOrLie(lot: Lot, operations: readonly Operation[], step: string): void {
  const [first] = checkOrder(lot, operations)
  if (first) throw new Lie('what all clients saw happened in one order, under the rules of bidding', first, step)
}

/** Until its half of the time is over: each client bids or looks, on one lot after the other. */
async function throughHttp(trial: Trial): Promise<number> {
  const { chance } = trial
  const seconds = trial.secondsLeft() / 2
  const lots = Math.max(2, Math.min(40, Math.ceil(seconds / 8)))
  const house = await furnish(join(trial.dir, 'house'), { lots, bidders: CLIENTS, reserve: (place) => (place % 2 === 0 ? '140' : null) })
  const { hand } = await serveHouse(trial, house.dataDir)
  const terms = (place: number): PriceTerms => makeTerms({ reserveMinor: place % 2 === 0 ? 14_000 : null })
  trial.begins()
  const until = performance.now() + seconds * 1000
  let all = 0
  for (const [place, { number, closesAt }] of house.lots.entries()) {
    const operations: Operation[] = []
    const lotUntil = Math.min(until, performance.now() + 7_500)
    let standing = 2_000
    await Promise.all(
      house.bidders.map(async ({ cookie, personId: bidder }) => {
        let bids = 0
        while (performance.now() < lotUntil && trial.goesOn()) {
          // The house takes twelve bids a minute of one paddle on one lot; what it says then is no matter of the order.
          const isBid = bids < 11 && chance() < 0.4
          const maximumMinor = standing + between(chance, -8, 40) * 100
          const key = `${trial.row.id}-${String(number).padStart(6, '0')}-${String(++all).padStart(8, '0')}`
          const [began, from] = [performance.now(), Date.now() - CLOCK_MAY_DIFFER_MS]
          const heard = isBid
            ? await hand.command(
                'bidding.place',
                { lot: number, key, maximum: (maximumMinor / 100).toFixed(2) },
                { cookie, from: someAddress(chance) },
              )
            : await hand.query('bidding.frame', { lot: number }, { from: someAddress(chance) })
          const common = { bidder, began, ended: performance.now(), clock: [from, Date.now() + CLOCK_MAY_DIFFER_MS] as const }
          if (!heard || heard.status === 429) continue
          if (isBid) {
            const answer = dataOf<BidAnswer>(heard)
            if (answer) bids += 1
            standing = Math.max(standing, answer?.standingMinor ?? 0)
            operations.push({ ...common, what: { kind: 'bid', maximumMinor, taken: answer ? takenOf(answer) : null } })
          } else {
            const frame = dataOf<LotFrame>(heard)
            if (frame) operations.push({ ...common, what: readOf(frame) })
          }
        }
      }),
    )
    holdOrLie({ terms: terms(place), closesAt }, operations, `lot ${number} through HTTP, ${operations.length} operations`)
    trial.tried(operations.length)
    if (performance.now() >= until) break
  }
  return trial.result.tried
}

/** The same against the queue itself, with a clock that is set: closings and late bids come in minutes of its own. */
async function throughQueue(trial: Trial): Promise<number> {
  const { chance } = trial
  const stage = openStage({ dir: join(trial.dir, 'stage') })
  trial.atEnd(() => stage.close())
  let given = 0
  const actors: Awaited<ReturnType<typeof makeBidder>>['actor'][] = []
  for (let place = 1; trial.goesOn(); place++) {
    const isLate = place % 3 === 0
    const { number, closesAt } = await makeOpenLot(stage, {
      tag: `U-${place}`,
      closesIn: isLate ? 5 * 60_000 : 30 * DAY,
      ...(place % 2 === 0 && { form: { reserveKind: 'amount', reserve: '140' } }),
    })
    if (actors.length === 0) {
      for (let n = 0; n < CLIENTS; n++)
        actors.push(
          (await makeBidder(stage, `Bidder ${String.fromCharCode(97 + (n % 26))}${String.fromCharCode(97 + Math.floor(n / 26))}`)).actor,
        )
      await stage.command(({ db }) => db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
    }
    const lot = { terms: makeTerms({ reserveMinor: place % 2 === 0 ? 14_000 : null }), closesAt }
    const operations: Operation[] = []
    let tick = 0
    let standing = 2_000
    let left = isLate ? 600 : OPERATIONS
    await Promise.all(
      actors.map(async (actor) => {
        while (left-- > 0 && trial.secondsLeft() > 0) {
          const maximumMinor = standing + between(chance, -8, 40) * 100
          const began = tick++
          const from = stage.clock.now()
          stage.clock.pass(between(chance, 60, 160))
          const common = { bidder: actor.personId, began }
          if (chance() < 0.3) {
            const frame = lotFrame(stage.sight(), number)
            const seen = { ...common, ended: tick++, clock: [from, stage.clock.now()] as const }
            if (frame) operations.push({ ...seen, what: readOf(frame) })
            await null
            continue
          }
          const key = `queue-${String(++given).padStart(12, '0')}`
          const maximum = (maximumMinor / 100).toFixed(2)
          const answer = await stage
            .command((turn) => placeTypedBid(turn, actor, { lot: number, key, maximum }))
            .catch((reason: { code?: string }) => (reason.code === 'too-many' ? undefined : null))
          if (answer === undefined) continue
          standing = Math.max(standing, answer?.standingMinor ?? 0)
          operations.push({
            ...{ ...common, ended: tick++, clock: [from, stage.clock.now()] },
            what: { kind: 'bid', maximumMinor, taken: answer ? takenOf(answer) : null },
          })
        }
      }),
    )
    holdOrLie(lot, operations, `lot ${number} of the queue, ${operations.length} operations`)
    trial.tried(operations.length)
  }
  return trial.result.tried
}
