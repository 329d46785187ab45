import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { priceOf } from '#sale/price/price.rules'
import { makeSaleDay } from '#test/make/either-ors'

const LOTS = 4
const amount = fc.integer({ min: 1_000, max: 30_000 })
const lot = fc.integer({ min: 1, max: LOTS })
const made = fc.record({
  order: fc.shuffledSubarray([1, 2, 3, 4], { minLength: 2 }),
  maxima: fc.array(amount, { minLength: LOTS, maxLength: LOTS }),
  mostWins: fc.integer({ min: 1, max: 3 }),
  capMinor: fc.option(fc.integer({ min: 5_000, max: 60_000 })),
})
const move = fc.record({
  wait: fc.integer({ min: 0, max: 4 * MINUTE }),
  lot,
  amount,
  who: fc.constantFrom('7R', '9F', 'C1', 'C2', 'C3'),
  kind: fc.constantFrom('bid', 'bid', 'bid', 'bid', 'hold', 'resume', 'withdraw'),
})

describe('whatever happens in a day with either-ors', () => {
  it('none wins more than it may, none spends more than its cap, none has more standing than it may still win', () => {
    let ended = 0
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 60 * MINUTE }), { minLength: LOTS, maxLength: LOTS }),
        fc.array(made, { minLength: 1, maxLength: 3 }),
        fc.array(move, { maxLength: 30 }),
        (closings, eitherOrs, moves) => {
          const day = makeSaleDay(closings, 1_000)
          const resume = (number: number, at: number) =>
            day.say(number, { kind: 'resume', shiftMs: at - (day.lotAt(number).state.heldSince ?? at) }, at)
          const look = () => {
            for (const { bidder, eitherOr } of day.eitherOrs) {
              const won = eitherOr.links.filter(({ phase }) => phase === 'won')
              const awake = eitherOr.links.filter(({ phase }) => phase === 'awake')
              const spent = won.reduce((sum, { hammerMinor }) => sum + (hammerMinor ?? 0), 0)
              const bound = awake.reduce((sum, { maximumMinor }) => sum + maximumMinor, spent)
              const leads = awake.filter((link) => day.lotAt(link.lot).state.leader?.bidder === bidder).length
              if (won.length + leads > eitherOr.mostWins) expect(won.length + leads).toBeLessThanOrEqual(eitherOr.mostWins)
              if (eitherOr.capMinor !== null && bound > eitherOr.capMinor) expect(bound).toBeLessThanOrEqual(eitherOr.capMinor)
            }
          }
          for (const [index, { order, maxima, mostWins, capMinor }] of eitherOrs.entries())
            day.make(`C${index + 1}`, { links: order.map((one) => [one, maxima[one - 1] ?? 1_000]), mostWins, capMinor }, 0)
          let now = 0
          for (const { wait, lot: number, amount: maximumMinor, who, kind } of moves) {
            now += wait
            if (kind === 'bid') day.bid(who, number, maximumMinor, now)
            else if (kind === 'hold') day.say(number, { kind: 'hold', reason: 'Sound.' }, now)
            else if (kind === 'resume') resume(number, now)
            else if (maximumMinor < 3_000) day.say(number, { kind: 'withdraw', reason: 'Broken.' }, now)
            look()
          }
          for (let one = 1; one <= LOTS; one++) resume(one, now)
          day.closeUntil(Number.MAX_SAFE_INTEGER / 2)
          look()
          for (const { eitherOr } of day.eitherOrs) {
            const open = eitherOr.links.filter(({ phase }) => phase === 'waiting' || phase === 'awake')
            if (open.length > 0) expect(open).toEqual([])
            ended += 1
          }
          for (const { terms, state, facts } of day.lots) {
            const price = priceOf(terms, state)
            if (price && price.priceMinor > (state.leader?.maximumMinor ?? 0)) expect(price).toBe('within the maximum')
            expect(facts.filter(({ kind }) => kind === 'closed' || kind === 'withdrawn')).toHaveLength(1)
            for (const [index, fact] of facts.entries()) if (fact.at < (facts[index - 1]?.at ?? 0)) expect(fact).toBe('in order')
          }
        },
      ),
      { numRuns: Number(process.env.LAWS ?? 0) > 0 ? 4000 : 250 },
    )
    expect(ended).toBeGreaterThan(250)
  }, 3_600_000)
})
