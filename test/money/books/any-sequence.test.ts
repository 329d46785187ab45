import fc from 'fast-check'
import { afterEach, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { plainMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { recordResale } from '#money/booking/undo.service'
import type { Books } from '#money/books/books.contract'
import { remittedSoFar } from '#money/journal/covering.rules'
import { readJournal } from '#money/journal/entries.service'
import type { JournalEntry } from '#money/journal/lot-account.rules'
import { sumOf } from '#money/journal/lot-account.rules'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { formKey } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const VERBS = [
  'pay',
  'pay too much',
  'unknown',
  'place',
  'keep',
  'give back',
  'charge back',
  'give',
  'match',
  'postage',
  'cost',
  'fee',
  'remit',
  'reduce',
  'fall through',
  'resale',
  'correct',
  'invoice',
] as const
const step = fc.record({
  verb: fc.constantFrom(...VERBS),
  lot: fc.constantFrom(1, 2),
  minor: fc.integer({ min: 1, max: 9_000 }),
  pick: fc.nat(),
})
type Step = typeof step extends fc.Arbitrary<infer One> ? One : never

/** Two lots sold for 50.00 and 48.00 with 12.00 postage, at 87.5 % for the cause, and a promise up to 60.00. */
async function twoSales() {
  stage = openStage()
  await makeOpenLot(stage, { tag: 'TERN-03', closesIn: 30 * MINUTE, sharePercent: '87.5' })
  await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 30 * MINUTE, sharePercent: '87.5' })
  await makeOpenLot(stage, { tag: 'TERN-05', closesIn: 600 * MINUTE, sharePercent: '87.5' })
  const ada = await makeBidder(stage, 'Ada')
  const bo = await makeBidder(stage, 'Bo')
  await bo.bid(1, '48')
  await ada.bid(1, '60')
  await bo.bid(2, '48')
  await ada.bid(3, '33')
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  const treasurer = await stage.as('treasurer')
  const { promiseId } = await treasurer.matching.promise({
    key: formKey(),
    from: 'Club',
    base: 'lots and gifts',
    ratioPercent: '33.33',
    cap: '60',
  })
  return { treasurer, promiseId, actor: await stage.actor('treasurer'), personId: bo.actor.personId }
}

/** What stands between the ways to count, after each step. */
function laws(books: Books, journal: readonly JournalEntry[], bankByHand: number): void {
  for (const { postings } of journal) expect(postings.reduce((sum, { amountMinor }) => sum + amountMinor, 0)).toBe(0)
  const { meter, statement, unplaced, promises } = books
  expect(statement.varianceAt).toEqual([])
  expect(statement.bankMinor).toBe(bankByHand)
  const { bidMinor, wonMinor, paidMinor, remittedMinor } = meter
  expect(bidMinor + wonMinor + paidMinor + remittedMinor).toBe(meter.countedMinor)
  expect(Math.min(bidMinor, wonMinor, paidMinor, remittedMinor)).toBeGreaterThanOrEqual(0)
  // The whole, from the cause's own account and what was only promised.
  const earned = 0 - sumOf(journal, 'owed-to-cause', ({ kind }) => kind !== 'remittance')
  const promised = promises.reduce((sum, each) => sum + each.bidMinor + each.wonMinor, 0)
  const standing = bidMinor - promises.reduce((sum, each) => sum + each.bidMinor, 0)
  expect(meter.countedMinor).toBe(earned + promised + standing)
  expect(remittedMinor).toBeLessThanOrEqual(remittedSoFar(journal))
  expect(remittedMinor === remittedSoFar(journal) || statement.toRemitMinor < statement.costs.cause).toBe(true)
  for (const lot of statement.lots) {
    expect(lot.owedMinor).toBe(lot.hammerMinor + lot.postageMinor - lot.receivedMinor)
    expect(Math.min(lot.owedMinor, lot.hammerMinor, lot.postageMinor, lot.receivedMinor)).toBeGreaterThanOrEqual(0)
    if (lot.state === 'fell through') expect(lot).toMatchObject({ postageMinor: 0, owedMinor: 0, receivedMinor: 0 })
  }
  expect(unplaced.reduce((sum, { leftMinor }) => sum + leftMinor, 0)).toBe(statement.unplacedMinor)
  for (const { receivedMinor, wonMinor: won, bidMinor: bid, capMinor, dueMinor } of promises) {
    expect(receivedMinor + won + bid).toBeLessThanOrEqual(capMinor)
    expect(dueMinor).toBeLessThanOrEqual(won)
  }
}

it('any sequence of payments, refunds, costs, matches, voids and corrections balances, and no penny is counted twice', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 25, maxLength: 45 }), async (steps) => {
      const { treasurer, promiseId, actor, personId } = await twoSales()
      const { booking, books, matching } = treasurer
      const read = async () => (await books.all()) as Books
      let bank = 0
      const moved = new Map<string, number>()
      const take = async ({ verb, lot, minor, pick }: Step, books: Books): Promise<[{ entryId: string }, number] | null> => {
        const amount = plainMoney(minor, 'GBP')
        const form = { key: formKey(), amount, reference: '', on: '' }
        const why = 'A step of many.'
        const line = books.unplaced[pick % Math.max(1, books.unplaced.length)]
        const entryId = line?.entryId ?? 'none'
        const cost = { bearer: (['seller', 'cause', 'postage'] as const)[pick % 3] ?? 'seller', lot }
        switch (verb) {
          case 'pay':
            return [await booking.pay({ ...form, lot }), minor]
          case 'pay too much':
            return [await booking.pay({ ...form, lot, over: 'keep' }), minor]
          case 'unknown':
            return [await booking.cameUnknown({ ...form, from: 'Somebody' }), minor]
          case 'place':
            return [await booking.place({ key: form.key, to: 'lot', entryId, lot, amount, on: '' }), 0]
          case 'keep':
            return [await booking.place({ key: form.key, to: 'gift', entryId, amount, word: 'Keep it.', on: '' }), 0]
          case 'give back':
            return [await booking.refund({ ...form, of: 'unplaced', entryId, why }), -minor]
          case 'charge back':
            return [await booking.refund({ ...form, of: 'lot', lot, why }), -minor]
          case 'give':
            return [await booking.give({ ...form, from: 'A friend' }), minor]
          case 'match':
            return [await matching.receive({ ...form, promiseId }), minor]
          case 'postage':
            return [await booking.postage({ key: form.key, lot, amount }), 0]
          case 'cost': {
            const paidFrom = pick % 2 === 0 ? 'bank' : 'pocket'
            return [await booking.cost({ ...form, ...cost, what: 'Something', about: 'parts', paidFrom }), paidFrom === 'bank' ? -minor : 0]
          }
          case 'fee':
            return [await booking.fee({ ...form, ...cost, to: 'The bank' }), -minor]
          case 'remit':
            return [await booking.remit(form), -minor]
          case 'reduce':
            return [await booking.reduce({ key: form.key, lot, amount, why }), 0]
          case 'fall through':
            return [await booking.fallThrough({ key: form.key, lot, why }), 0]
          case 'resale':
            return [
              await stage.command((turn) =>
                recordResale(turn, actor, { lot, personId, priceMinor: minor, postageMinor: 900, by: 'underbidder' }),
              ),
              0,
            ]
          case 'invoice':
            await treasurer.documents.issue({
              key: form.key,
              lots: pick % 3 === 0 ? [1, 2] : [lot],
              name: 'A buyer',
              address: '2 Quay Lane',
            })
            return null
          case 'correct': {
            const entry = books.journal[pick % books.journal.length]
            const answer = await booking.correct({ key: form.key, entryId: entry?.id ?? '', why })
            return [answer, -(moved.get(entry?.id ?? '') ?? 0)]
          }
        }
      }
      for (const one of steps) {
        try {
          const done = await take(one, await read())
          if (done) {
            moved.set(done[0].entryId, done[1])
            bank += done[1]
          }
        } catch (error) {
          const cause = error instanceof Error ? (error.cause ?? error) : error
          expect(cause).toBeInstanceOf(Refusal)
        }
        laws(await read(), readJournal(stage), bank)
        // What was invoiced, less what was credited, is what stands of every contract that has an invoice.
        const { documents, invoicedMinor, waiting } = await treasurer.documents.desk()
        const free = new Set(waiting.flatMap(({ lots }) => lots.map((one) => one.lot)))
        const stands = (await read()).statement.lots.filter(({ number }) => !free.has(number))
        expect(invoicedMinor).toBe(stands.reduce((sum, { hammerMinor, postageMinor }) => sum + hammerMinor + postageMinor, 0))
        expect(documents.map(({ number }) => number)).toEqual(documents.map((_, at) => at + 1))
      }
      stage.close()
    }),
    { numRuns: 5 },
  )
}, 120_000)
