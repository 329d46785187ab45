import { like } from 'drizzle-orm'
import { paddle, person } from '#db/schema/index'
import { MOST_MINOR, plainMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { setRole, takePaddle } from '#people/people/people.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import { placeTypedBid } from '#sale/bidding/place-bid.service'
import { loadOpenedLot } from '#sale/bids/lot-state.service'
import { listLots } from '#sale/lots/lots.service'
import { stepAt } from '#sale/price/ladder.rules'
import { leastNext, priceOf } from '#sale/price/price.rules'
import type { House } from '../open/parts'

/** So many wait in the queue at once, as when many people bid: what waits together is written together. */
const IN_FLIGHT = 250
/** Nobody may bid more than once in five seconds on one lot, so there are more bidders the faster the machine is. */
const PAIRS = 20_000
const MAIL = '@grown.example'

export interface Growing {
  /** Takes so many further bids, each through the queue and the rules that every bid goes through, and answers how many were refused. */
  bid(count: number): Promise<number>
  lots: number
  bidders: number
}

/** Invented bidders in a house whose lots are open. Throws, in words, where no lot takes bids. */
export async function openGrowing(house: House, pairs = PAIRS): Promise<Growing> {
  const lots = listLots(house.sight()).flatMap(({ number, state, soldWhere }) => (state === 'open' && soldWhere === 'here' ? [number] : []))
  if (lots.length === 0) throw new Error('No lot of this house can open, so nobody can bid. Plan the closing of one that is ready first.')
  const people = await inventBidders(house, Math.ceil(pairs / lots.length))
  let turnOf = 0

  const one = async (): Promise<boolean> => {
    const at = turnOf++
    const [lot, who] = [lots[at % lots.length], people[Math.floor(at / lots.length) % people.length]]
    if (lot === undefined || who === undefined) return false
    try {
      await house.queue.run((turn) => placeTypedBid(turn, who, { lot, key: turn.dice.id(), maximum: amountFor(turn, lot, at) }))
      return true
    } catch (reason) {
      if (reason instanceof Refusal) return false
      throw reason
    }
  }

  return {
    lots: lots.length,
    bidders: people.length,
    async bid(count) {
      let refused = 0
      for (let taken = 0; taken < count; ) {
        const answers = await Promise.all(Array.from({ length: Math.min(IN_FLIGHT, count - taken) }, one))
        const good = answers.filter(Boolean).length
        taken += good
        refused += answers.length - good
        if (good === 0 && refused > IN_FLIGHT * 4) throw new Error('No lot takes bids any more, so the house cannot be grown further.')
      }
      return refused
    },
  }
}

/** The least that is taken now, or some steps above it: leaders change, and maxima are passed over. */
function amountFor(turn: Turn, lot: number, at: number): string {
  const { state } = loadOpenedLot(turn, lot)
  const least = leastNext(state.terms, priceOf(state.terms, state)?.priceMinor ?? null)
  return plainMoney(least + (at % 5) * stepAt(state.terms.ladder, least), state.terms.currency)
}

async function inventBidders(house: House, count: number): Promise<Actor[]> {
  const there = (): Actor[] =>
    house.db
      .select()
      .from(person)
      .where(like(person.email, `%${MAIL}`))
      .all()
      .map(({ id, name, email }) => ({ personId: id, role: 'bidder', name, email }))
  const before = there().length
  if (before >= count) return there()
  await house.queue.run((turn) => {
    for (let number = before + 1; number <= count; number++) {
      const [email, name] = [`bidder-${number}${MAIL}`, `Invented bidder ${number}`]
      const { personId } = setRole(turn, { email, role: 'bidder', name })
      takePaddle(turn, { personId, role: 'bidder', name, email }, { name, country: 'GB', acceptsRules: true })
    }
    // A first paddle may bid little; these shall bid for long.
    turn.db.update(paddle).set({ ceilingMinor: MOST_MINOR }).run()
  })
  return there()
}
