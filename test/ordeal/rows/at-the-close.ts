import { join } from 'node:path'
import { MINUTE } from '#kernel/instant'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import type { BidAnswer } from '#sale/bids/bids.contract'
import { makeTerms } from '#test/make/lot-history'
import { standingOf } from '#test/make/standing'
import { type FurnishedLot, furnish } from '../furnish'
import { dataOf, type Hand } from '../hand'
import { openedOrLie, serveHouse } from '../served'
import { between, Lie, pause, pick, type Row, type Trial } from '../trial'
import { someAddress } from '../work'

const LOTS = 24
const BIDDERS = ['Ada', 'Ben', 'Cai']
const AROUND_MS = 50
const LATE_MS = 2 * MINUTE
const FIRST_START_MS = 9_000
const LONGEST_SWEEP_MS = 5_000

export const atTheClose: Row = {
  id: 'R8',
  what: 'killed and opened again within 50 ms of a close',
  goal: "1,000 closings, the model's winner at each",
  times: 1_000,
  unit: 'closings',
  run,
}

/** A bid that was taken, as the model keeps it. */
interface Taken {
  bidder: string
  alias: string
  maximumMinor: number
  sequence: number
  at: number
}

async function run(trial: Trial): Promise<void> {
  // A machine that is busy needs longer to furnish a house and to open it: then the next closings are further off.
  let startMs = FIRST_START_MS
  for (let round = 1; trial.goesOn(); round++) if (!(await closeAndDie(trial, round, startMs))) startMs *= 2.5
}

/** Answers whether the house was open in time for its closings. */
async function closeAndDie(trial: Trial, round: number, startMs: number): Promise<boolean> {
  const { chance } = trial
  const taken = new Map<number, Taken[]>()
  const note = (lot: number, bidder: string, { alias, maximumMinor, receipt: { leaf } }: BidAnswer) => {
    if (leaf.kind !== 'bid') throw new Error('the receipt of a bid is for a bid')
    const one = { bidder, alias, maximumMinor, sequence: leaf.sequence, at: Date.parse(leaf.at) }
    taken.set(lot, [...(taken.get(lot) ?? []).filter(({ sequence }) => sequence !== one.sequence), one])
  }
  let places = 0
  const house = await furnish(join(trial.dir, `house-${round}`), {
    lots: LOTS,
    ago: 30 * MINUTE,
    closesIn: () => startMs + between(chance, -AROUND_MS, AROUND_MS),
    reserve: () => (places++ % 3 === 0 ? '140' : null),
    named: BIDDERS,
    inside: async (stage, lots) => {
      for (const { number } of lots)
        for (let bids = between(chance, 0, 4); bids > 0; bids--) {
          const bidder = pick(chance, BIDDERS)
          const maximum = String(between(chance, 20, 260))
          const key = `before-${String(number).padStart(6, '0')}-${String(bids).padStart(6, '0')}`
          const answer = await (await stage.as('bidder', bidder)).bidding.place({ lot: number, maximum, key }).catch(() => null)
          if (answer) note(number, bidder, answer)
        }
    },
  })
  const served = await serveHouse(trial, house.dataDir)
  const closing = Math.max(...house.lots.map(({ closesAt }) => closesAt)) - AROUND_MS
  if (Date.now() > closing - 500) {
    await served.kill()
    return false
  }
  await pause(closing - 1_200 - Date.now())
  const asked: { lot: number; bidder: string; ask: (hand: Hand) => ReturnType<Hand['ask']> }[] = []
  const bid = async (lot: number) => {
    const place = between(chance, 0, BIDDERS.length - 1)
    const bidder = BIDDERS[place] ?? ''
    const input = {
      lot,
      maximum: String(between(chance, 20, 300)),
      key: `last-${String(asked.length).padStart(8, '0')}-${round}-at-the-close`,
    }
    const ask = (hand: Hand) => hand.command('bidding.place', input, { cookie: house.bidders[place]?.cookie, from: someAddress(chance) })
    asked.push({ lot, bidder, ask })
    const answer = dataOf<BidAnswer>(await ask(served.hand))
    if (answer) note(lot, bidder, answer)
  }
  const end = closing + between(chance, -AROUND_MS, AROUND_MS)
  const bids: Promise<void>[] = []
  // Some come in the last second: most are too late to change anything, those that do move the closing.
  while (Date.now() < end - 5) {
    if (bids.length < LOTS / 3) bids.push(bid(pick(chance, house.lots).number))
    await pause(Math.min(between(chance, 20, 120), Math.max(0, end - 5 - Date.now())))
  }
  await pause(Math.max(0, end - Date.now()))
  await served.kill()
  await Promise.all(bids)
  const step = `round ${round}: killed ${end - closing} ms from the middle of its closings`
  const again = await openedOrLie(trial, house.dataDir, step)
  await pause(closing + 2 * AROUND_MS + 20 - Date.now())
  for (const { lot, bidder, ask } of asked) {
    const answer = dataOf<BidAnswer>(await ask(again.hand))
    if (answer) note(lot, bidder, answer)
  }
  for (const [place, lot] of house.lots.entries()) {
    await hold(trial, again.hand, lot, { taken: taken.get(lot.number) ?? [], reserveMinor: place % 3 === 0 ? 14_000 : null, step })
    trial.tried()
  }
  await again.kill()
  return true
}

/** The lot stands as the model of its bids has it. */
async function hold(
  { chance }: Trial,
  hand: Hand,
  { number, closesAt: planned }: FurnishedLot,
  { taken, reserveMinor, step }: { taken: Taken[]; reserveMinor: number | null; step: string },
): Promise<void> {
  const terms = makeTerms({ reserveMinor })
  const bids = [...taken].sort((a, b) => a.sequence - b.sequence)
  const heard = await hand.ask(`/lots/${number}/history.json`, { from: someAddress(chance) })
  const { leaves } = JSON.parse(heard?.text ?? '{"leaves":[]}') as {
    leaves: { kind: string; from?: string; to?: string; shiftMs?: number }[]
  }
  let closesAt = planned
  let place = 0
  // A bid of the last two minutes moves the closing; so does time in which nobody could bid, where it was more than five seconds: that
  // is the rule, and the history says which came first.
  for (const { kind, from = '', to = '', shiftMs = 0 } of leaves) {
    if (kind === 'outage') {
      if (Date.parse(to) - Date.parse(from) <= 5_000) throw new Lie('a silence of five seconds moves no closing', `${from} to ${to}`, step)
      closesAt += shiftMs
    }
    const bid = kind === 'bid' ? bids[place++] : undefined
    if (!bid) continue
    const [before, after] = [standingOf(terms, bids.slice(0, place - 1)), standingOf(terms, bids.slice(0, place))]
    if ((before.leader !== after.leader || before.price !== after.price) && closesAt - bid.at < LATE_MS) closesAt = bid.at + LATE_MS
  }
  const look = async () => dataOf<LotFrame>(await hand.query('bidding.frame', { lot: number }, { from: someAddress(chance) }))
  let frame = await look()
  // Until the sweep has been there a screen shows a lot that is over as one that closes now.
  for (let waited = 0; frame?.state === 'open' && frame.serverNow >= closesAt && waited < LONGEST_SWEEP_MS; waited += 50) {
    await pause(50)
    frame = await look()
  }
  const { leader, price, maximum } = standingOf(terms, bids)
  const isSold = leader !== null && maximum >= (reserveMinor ?? 0)
  const isOver = closesAt <= (frame?.serverNow ?? 0)
  const want = {
    state: !isOver ? 'open' : isSold ? 'sold' : 'unsold',
    leaderAlias: bids.find(({ bidder }) => bidder === leader)?.alias ?? null,
    hammerMinor: isOver && isSold ? price : null,
    endedAt: isOver ? closesAt : null,
    closesAt,
    bids: bids.length,
  }
  const { state, leaderAlias, hammerMinor, endedAt, bids: count } = frame ?? {}
  const seen = { state, leaderAlias, hammerMinor, endedAt, closesAt: frame?.closesAt, bids: count }
  if (JSON.stringify(want) !== JSON.stringify(seen)) throw new Lie(JSON.stringify(want), JSON.stringify(seen), `${step}, lot ${number}`)
}
