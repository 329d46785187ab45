import { afterEach, expect, test } from 'vitest'
import { DAY, MINUTE } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

/** Two lots of one buyer, sold at 62.00 and 20.00 with what postage they have, and one line of the bank. */
async function paidByCard(lineAmount: string) {
  stage = openStage()
  const made = await makeSoldLot(stage)
  const { number: other } = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 30 * MINUTE })
  await made.ada.caller.bidding.place({ lot: other, maximum: '20', key: 'ada-on-the-other-lot' })
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  stage.clock.pass(3 * DAY)
  const { treasurer, number } = made
  await treasurer.bank.import({ name: 'march.csv', text: `Date,Amount,Details\n2027-03-15,${lineAmount},card takings` })
  const lineId = (await treasurer.bank.desk()).open[0]?.id ?? ''
  const lots = (await made.books()).statement.lots
  const of = (lot: number) => lots.find((one) => one.number === lot)
  return { ...made, number, other, lineId, first: of(number), second: of(other) }
}

const money = (minor = 0) => (minor / 100).toFixed(2)

test('sales at gross and fees apart are booked on the one line, each to its contract, and the bank agrees', async () => {
  const { treasurer, books, lineId, number, other, first, second } = await paidByCard('75.00')
  const [one, two] = [first?.owedMinor ?? 0, second?.owedMinor ?? 0]
  const fee = one + two - 7500
  const half = Math.floor(fee / 2)
  const text = `Charged total;Kept as fee;Out (net);Note\n${money(one)};-${money(half)};${money(one - half)};${first?.reference}\n${money(two)};-${money(fee - half)};${money(two - fee + half)};lot ${other}`
  const file = { lineId, name: 'payout.csv', text }
  const seen = await treasurer.bank.previewPayout(file)
  expect(seen).toMatchObject({ flaws: [], netMinor: 7500, lineMinor: 7500, feeMinor: fee, grossMinor: one + two })
  expect(seen.table.columns.map(({ column }) => column)).toEqual(['gross', 'fee', 'net', 'reference'])
  expect(seen.table.columns[0]?.guess).toContain('heading')
  expect(seen.rows.map(({ place }) => place)).toMatchObject([
    { to: 'lot', lot: number },
    { to: 'lot', lot: other },
  ])
  const booking = { ...file, key: formKey(), processor: 'the card processor', bearer: 'seller' } as const
  expect(await treasurer.bank.bookPayout(booking)).toEqual({ sales: 2 })
  const { statement } = await books()
  expect(statement).toMatchObject({ varianceMinor: 0, bankMinor: 7500, unpaidMinor: 0 })
  await treasurer.bank.balances({ key: formKey(), account: '', opensOn: '2027-03-15', closesOn: '2027-03-15', opening: '0', closing: '75' })
  expect((await treasurer.bank.desk()).reconciled[0]).toMatchObject({ agrees: true })

  // What was booked by mistake is taken back whole, and the line waits again.
  expect(await treasurer.bank.reopen({ key: formKey(), lineId, why: 'another list' })).toEqual({ takenBack: 4 })
  expect((await books()).statement).toMatchObject({ varianceMinor: 0, bankMinor: 0, unpaidMinor: one + two })
})

test('what does not add up is said at its row and keeps all of it out', async () => {
  const { treasurer, books, lineId, first, number } = await paidByCard('60.00')
  const look = (rows: string, more = {}) =>
    treasurer.bank.previewPayout({ lineId, name: '', text: `gross,fee,net,reference\n${rows}`, ...more })
  const flaws = async (rows: string, more = {}) => (await look(rows, more)).flaws.map(({ line, column }) => `${line} ${column}`)
  expect(await flaws(`62.00,1.00,60.00,${first?.reference}`)).toEqual(['2 net'])
  expect(await flaws('61.00,1.00,60.00,nothing of ours')).toEqual(['2 reference'])
  expect(await flaws(`30.00,1.00,29.00,${first?.reference}`)).toEqual(['0 net'])
  expect(await flaws(`${money((first?.owedMinor ?? 0) + 1)},,${money((first?.owedMinor ?? 0) + 1)},lot ${number}`)).toContain('2 gross')
  expect(await flaws('60.00,-1.00,61.00,lot 1')).toContain('2 fee')
  expect(await flaws('sixty,1.00,60.00,lot 1')).toEqual(['2 gross'])
  const bad = {
    lineId,
    name: '',
    text: 'gross,fee,net,reference\n61.00,1.00,60.00,a friend',
    key: formKey(),
    processor: 'cards',
    bearer: 'seller',
  } as const
  expect(await refusedAt(treasurer.bank.bookPayout(bad))).toHaveProperty('file')
  expect((await books()).statement.bankMinor).toBe(0)
  // A row that names nothing gets its place from a person.
  const places = [{ line: 2, to: 'unplaced' as const }]
  expect(await flaws('61.00,1.00,60.00,a friend', { places })).toEqual([])
  await treasurer.bank.bookPayout({ ...bad, key: formKey(), places })
  expect((await books()).statement).toMatchObject({ varianceMinor: 0, bankMinor: 6000, unplacedMinor: 6100 })
})

test('what went back to a card is paid back for its lot, and a fee may stand alone', async () => {
  const { treasurer, books, lineId, first, number } = await paidByCard('31.50')
  const text = `gross,fee,reference\n40.00,1.00,${first?.reference}\n-5.00,0.00,${first?.reference}\n,2.50,a month of service`
  await treasurer.bank.bookPayout({ lineId, name: '', text, key: formKey(), processor: 'cards', bearer: 'seller' })
  const { statement } = await books()
  expect(statement).toMatchObject({ varianceMinor: 0, bankMinor: 3150 })
  expect(statement.lots.find((lot) => lot.number === number)).toMatchObject({ receivedMinor: 3500 })
})

test('how a processor’s list is read is remembered by its headings, with who it is and who bears its fees; it can be forgotten', async () => {
  const { treasurer, lineId, first } = await paidByCard('20.00')
  const text = `A;B;C\n${first?.reference};21.00;1.00`
  const choice = { delimiter: 'semicolon' as const, columns: ['reference', 'gross', 'fee'] }
  expect((await treasurer.bank.previewPayout({ lineId, name: '', text })).remembered).toBeNull()
  const { key, ...more } = { key: formKey(), processor: 'Cardhouse', bearer: 'cause' as const }
  await treasurer.bank.bookPayout({ lineId, name: 'one.csv', text, ...choice, key, ...more, bearer: 'seller' })
  await treasurer.bank.import({ name: 'april.csv', text: 'Date,Amount,Details\n2027-03-16,10.00,card takings again' })
  const [next] = (await treasurer.bank.desk()).open
  const again = { lineId: next?.id ?? '', name: 'two.csv', text: `A;B;C\n${first?.reference};10.50;0.50` }
  const seen = await treasurer.bank.previewPayout(again)
  expect(seen).toMatchObject({ flaws: [], remembered: { file: 'one.csv', processor: 'Cardhouse', bearer: 'seller' } })
  expect(seen.rows).toMatchObject([{ grossMinor: 1050, feeMinor: 50 }])
  expect((await treasurer.bank.previewPayout({ ...again, afresh: true })).remembered).toBeNull()
  // A bank's file is never read by it.
  expect(await treasurer.bank.preview({ name: '', text: 'A;B;C\n2027-03-16;1.00;x' })).toMatchObject({ remembered: null })
  const layout = (await treasurer.bank.desk()).layouts.find(({ processor }) => processor === 'Cardhouse')
  await treasurer.bank.forgetLayout({ layoutId: layout?.id ?? '' })
  expect((await treasurer.bank.previewPayout(again)).remembered).toBeNull()
})
