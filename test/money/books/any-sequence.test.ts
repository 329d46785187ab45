import fc from 'fast-check'
import { afterEach, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { plainMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { recordResale } from '#money/booking/undo.service'
import type { Books } from '#money/books/books.contract'
import { ledgerOf } from '#money/books/ledger.rules'
import { remittedSoFar } from '#money/journal/covering.rules'
import { readJournal } from '#money/journal/entries.service'
import { ACCOUNTS } from '#money/journal/journal.rules'
import type { JournalEntry } from '#money/journal/lot-account.rules'
import { sumOf } from '#money/journal/lot-account.rules'
import { closeDueLots } from '#sale/closings/close-due.service'
import { listLots } from '#sale/lots/lots.service'
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
  'price',
  'yes to the price',
  'one parcel',
  'take apart',
  'postage of the parcel',
  'cost of the parcel',
  'payout',
  'another currency',
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
  const cy = await makeBidder(stage, 'Cy')
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
  const [actor, maker] = [await stage.actor('treasurer'), await stage.as('maker')]
  return { treasurer, maker, promiseId, actor, personId: bo.actor.personId, buyers: [ada, bo, cy] as const }
}
type Sales = Awaited<ReturnType<typeof twoSales>>

/** The other views of the same money, each against the books. */
async function views({ treasurer, buyers }: Sales, { meter, statement, journal }: Books): Promise<void> {
  const parts = await treasurer.proceeds.states()
  for (const key of ['bidMinor', 'wonMinor', 'paidMinor', 'remittedMinor'] as const)
    expect(parts.reduce((sum, part) => sum + part[key], 0)).toBe(meter[key])
  const postage = await treasurer.sending.postages()
  expect(postage).toMatchObject({ chargedMinor: statement.postageMinor, costMinor: statement.sendingCostMinor })
  const spent = (postage?.parcels ?? []).reduce((sum, { costMinor }) => sum + (costMinor ?? 0), postage?.otherMinor ?? 0)
  expect(spent).toBe(statement.sendingCostMinor)
  const sales = (await Promise.all(buyers.map(({ caller }) => caller.invoices.mySales()))).flat().filter(({ stands }) => stands)
  expect(sales.reduce((sum, { priceMinor, postageMinor }) => sum + priceMinor + postageMinor, 0)).toBe(
    statement.hammerMinor + statement.postageMinor,
  )
  const cards = new Map(listLots(stage.sight()).map((card) => [card.number, card]))
  for (const { number, hammerMinor, fellAtMinor } of statement.lots) expect(cards.get(number)?.standsMinor ?? fellAtMinor).toBe(hammerMinor)
  const { varianceAt, sums } = (await treasurer.statement.account()) ?? {}
  expect(varianceAt).toEqual([])
  expect(sums).toMatchObject({ where: sums?.whose, sending: statement.sendingCostMinor })
  const balances = ACCOUNTS.map((account) => ledgerOf(journal, account).at(-1)?.balanceMinor ?? 0)
  expect(balances.reduce((sum, minor) => sum + minor, 0)).toBe(0)
  for (const { amountMinor, state, became } of (await treasurer.bank.desk()).settled)
    if (state === 'placed' && became.every(({ isTakenBack }) => !isTakenBack))
      expect(became.reduce((sum, one) => sum + one.amountMinor, 0)).toBe(amountMinor)
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

it('any sequence of payments, refunds, costs, matches, second contracts, parcels, payouts and corrections balances, and no penny is counted twice', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 25, maxLength: 45 }), async (steps) => {
      const sales = await twoSales()
      const { treasurer, maker, promiseId, actor, personId, buyers } = sales
      let lines = 0
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
            if ((await maker.fixedPrice.desks()).some((desk) => desk.lot === lot && desk.standing !== null)) return null
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
          case 'price':
            await maker.fixedPrice.offer({ key: form.key, lot, amount, lastDay: '', cancelWords: 'Write to the seller.' })
            return null
          case 'yes to the price': {
            const { caller } = buyers[pick % 3] ?? buyers[0]
            const { seen } = await caller.fixedPrice.mine({ lot })
            const priceMinor = (await caller.fixedPrice.of({ lot }))?.priceMinor
            if (priceMinor === undefined) return null
            await caller.fixedPrice.take({ key: form.key, lot, priceMinor, seen: seen || '0'.repeat(64) })
            return null
          }
          case 'one parcel':
            await maker.sending.join({ key: form.key, lots: [1, 2], postage: pick % 2 === 0 ? amount : '' })
            return null
          case 'take apart':
            await maker.sending.takeApart({ lot })
            return null
          case 'postage of the parcel':
            await maker.sending.parcelPostage({ key: form.key, lot, postage: amount })
            return null
          case 'cost of the parcel':
            return [await maker.sending.cost({ ...form, lot, paidFrom: 'bank' }), -minor]
          case 'payout': {
            const owed = books.statement.lots.find(({ number }) => number === lot)
            const [gross, fee] = [Math.min(owed?.owedMinor ?? 0, minor), pick % 100]
            if (!owed || gross <= fee) return null
            const net = plainMoney(gross - fee, 'GBP')
            lines += 1
            await treasurer.bank.import({ name: 'card.csv', text: `Date,Amount,Details\n2027-03-13,${net},takings ${lines}` })
            const lineId = (await treasurer.bank.desk()).open.find(({ words }) => words === `takings ${lines}`)?.id ?? ''
            const text = `gross,fee,net,reference\n${plainMoney(gross, 'GBP')},${plainMoney(fee, 'GBP')},${net},${owed.reference}`
            await treasurer.bank.bookPayout({ key: form.key, lineId, name: 'p.csv', text, processor: 'cards', bearer: cost.bearer })
            for (const { id, kind } of (await read()).journal.slice(books.journal.length)) {
              if (kind === 'payment') moved.set(id, gross)
              if (kind === 'fee') moved.set(id, -fee)
            }
            bank += gross - fee
            return null
          }
          case 'another currency':
            lines += 1
            await treasurer.bank.import({
              name: 'abroad.csv',
              text: `Date,Amount,Currency,Details\n2027-03-13,${amount},USD,from abroad ${lines}\n`,
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
        const now = await read()
        laws(now, readJournal(stage), bank)
        await views(sales, now)
        // What was invoiced, less what was credited, is what stands of every contract that has an invoice.
        const { documents, invoicedMinor, waiting } = await treasurer.documents.desk()
        const free = new Set(waiting.flatMap(({ lots }) => lots.map((one) => one.lot)))
        const stands = (await read()).statement.lots.filter(({ number }) => !free.has(number))
        expect(invoicedMinor).toBe(stands.reduce((sum, { hammerMinor, postageMinor }) => sum + hammerMinor + postageMinor, 0))
        expect(documents.map(({ number }) => number)).toEqual(documents.map((_, at) => at + 1))
      }
      stage.close()
    }),
    { numRuns: 4, endOnFailure: true },
  )
}, 300_000)
