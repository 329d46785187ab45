import { afterEach, expect, test } from 'vitest'
import { DAY, MINUTE } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

async function sold() {
  stage = openStage()
  const made = await makeSoldLot(stage)
  const reference = (await made.books()).statement.lots[0]?.reference ?? ''
  stage.clock.pass(3 * DAY)
  const { treasurer } = made
  const desk = () => treasurer.bank.desk()
  const take = (text: string, choice = {}) => treasurer.bank.import({ name: 'march.csv', text, ...choice })
  return { ...made, reference, desk, take }
}

test('a file is kept once: the same again changes nothing, an overlapping one adds what is new', async () => {
  const { take, desk, reference } = await sold()
  const first = `Date,Amount,Details\n2027-03-14,62.00,${reference}\n2027-03-14,-3.20,Account fee`
  expect(await take(first)).toEqual({ fresh: 2, known: 0 })
  expect(await take(first)).toEqual({ fresh: 0, known: 2 })
  expect(await take(`${first}\n2027-03-15,5.00,tea`)).toEqual({ fresh: 1, known: 2 })
  expect(await take(first.replaceAll(',', ';'))).toEqual({ fresh: 0, known: 2 })
  expect((await desk()).open).toHaveLength(3)
})

test('a suggestion is confirmed by a person and pays the lot; what nothing speaks for stays in sight', async () => {
  const { take, desk, reference, treasurer, number, books } = await sold()
  await take(`Date,Amount,Details\n2027-03-14,62.00,${reference.toLowerCase()}\n2027-03-15,5.00,tea`)
  const [paid, tea] = (await desk()).open
  expect(paid?.suggestion).toMatchObject({ strength: 'sure', why: expect.stringContaining(`reference of lot ${number}`) })
  expect(tea?.suggestion).toBeNull()
  await treasurer.bank.confirm({ key: formKey(), lineId: paid?.id ?? '' })
  const { statement } = await books()
  expect(statement).toMatchObject({ varianceMinor: 0, bankMinor: 6200 })
  expect(statement.lots[0]).toMatchObject({ owedMinor: 0, state: 'paid' })
  expect((await desk()).open.map(({ words }) => words)).toEqual(['tea'])
  expect(await refusedAt(treasurer.bank.confirm({ key: formKey(), lineId: paid?.id ?? '' }))).toHaveProperty('lineId')
})

test('one payment for two lots with something over is booked whole, in three parts', async () => {
  const { treasurer, number, ada, reference, books, take, desk } = await sold()
  const { number: other } = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 30 * MINUTE })
  const caller = ada.caller
  await caller.bidding.place({ lot: other, maximum: '20', key: 'ada-on-the-other-lot' })
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  const second = (await books()).statement.lots.find((lot) => lot.number === other)
  const amount = ((6200 + (second?.owedMinor ?? 0) + 500) / 100).toFixed(2)
  await take(`Date,Amount,Details\n2027-03-15,${amount},${reference} ${second?.reference}`)
  const [line] = (await desk()).open
  expect(line?.suggestion?.parts.map(({ to }) => to)).toEqual(['lot', 'lot', 'unplaced'])
  await treasurer.bank.confirm({ key: formKey(), lineId: line?.id ?? '' })
  expect((await books()).statement).toMatchObject({ varianceMinor: 0, unpaidMinor: 0, unplacedMinor: 500 })
  expect((await desk()).settled[0]?.became.map(({ lot }) => lot)).toEqual([number, other, null])
})

test('a line is placed by hand, all of it or nothing', async () => {
  const { treasurer, number, take, desk, books } = await sold()
  await take('Date,Amount,Details\n2027-03-15,70.00,from a friend')
  const lineId = (await desk()).open[0]?.id ?? ''
  const key = formKey
  const place = (parts: Parameters<typeof treasurer.bank.place>[0]['parts']) => treasurer.bank.place({ key: key(), lineId, parts })
  expect(await refusedAt(place([{ to: 'lot', lot: number, amount: '62' }]))).toHaveProperty(['parts.0.amount'])
  expect(await refusedAt(place([{ to: 'lot', lot: number, amount: '70' }]))).toHaveProperty('amount')
  expect(await refusedAt(place([{ to: 'remittance', amount: '70' }]))).toHaveProperty(['parts.0.to'])
  expect(
    await refusedAt(
      place([
        { to: 'lot', lot: number, amount: '62' },
        { to: 'gift', from: '', amount: '8' },
      ]),
    ),
  ).toHaveProperty(['parts.1.from'])
  // The second part is refused, so the first is not booked either.
  expect(
    await refusedAt(
      place([
        { to: 'lot', lot: number, amount: '62' },
        { to: 'lot', lot: number, amount: '8' },
      ]),
    ),
  ).toHaveProperty('lot')
  expect((await books()).statement.bankMinor).toBe(0)
  await place([
    { to: 'lot', lot: number, amount: '62' },
    { to: 'gift', from: 'A friend', amount: '8' },
  ])
  expect((await books()).statement).toMatchObject({ bankMinor: 7000, giftMinor: 800, varianceMinor: 0 })
})

test('what was marked paid by hand is found on the bank’s paper and not counted twice', async () => {
  const { treasurer, number, reference, take, desk, books } = await sold()
  await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '2027-03-14' })
  await take(`Date,Amount,Details\n2027-03-15,62.00,${reference}`)
  const [line] = (await desk()).open
  expect(line?.suggestion?.parts[0]?.to).toBe('entry')
  await treasurer.bank.confirm({ key: formKey(), lineId: line?.id ?? '' })
  expect((await books()).statement.bankMinor).toBe(6200)
  // The next line of the same amount is another payment, not the same entry again.
  await take(`Date,Amount,Details\n2027-03-16,62.00,${reference}`)
  expect((await desk()).open[0]?.suggestion?.parts).toEqual([{ to: 'unplaced', amountMinor: 6200 }])
})

test('what went out is a remittance, a refund or a cost, and a wrong one is taken back whole', async () => {
  const { treasurer, reference, take, desk, books, ada } = await sold()
  expect(ada.paddle).toBeGreaterThan(0)
  await take(
    `Date,Amount,Details,Name\n2027-03-14,72.00,${reference},Ada\n2027-03-15,-10.00,too much,Ada\n2027-03-15,-20.00,thanks,Ferry Lane Repair School\n2027-03-15,-4.50,stamps,Post`,
  )
  for (const _turn of [1, 2, 3]) {
    const next = (await desk()).open.find(({ suggestion }) => suggestion)
    await treasurer.bank.confirm({ key: formKey(), lineId: next?.id ?? '' })
  }
  const [stamps] = (await desk()).open
  expect(stamps?.suggestion).toBeNull()
  await treasurer.bank.place({
    key: formKey(),
    lineId: stamps?.id ?? '',
    parts: [{ to: 'cost', amount: '4.50', what: 'Stamps', about: 'sending', bearer: 'postage' }],
  })
  expect((await books()).statement).toMatchObject({
    varianceMinor: 0,
    refundedMinor: 1000,
    remittedMinor: 2000,
    unplacedMinor: 0,
    bankMinor: 3750,
  })
  await treasurer.bank.reopen({ key: formKey(), lineId: stamps?.id ?? '', why: 'It was solder.' })
  expect((await books()).statement).toMatchObject({ varianceMinor: 0, bankMinor: 4200 })
  expect((await desk()).open).toHaveLength(1)
  await treasurer.bank.setAside({ lineId: stamps?.id ?? '', why: 'Paid for the club, not for us.' })
  expect(await desk()).toMatchObject({ open: [], settled: expect.arrayContaining([expect.objectContaining({ state: 'set aside' })]) })
})

test('a late payment of the first buyer is theirs, and what they get back; the second buyer still owes', async () => {
  const { take, desk, reference, treasurer, number, bo, books } = await sold()
  const { offerId } = await treasurer.invoices.offer({ key: formKey(), lot: number, why: 'It was not paid.' })
  await bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: true })
  await take(`Date,Amount,Details,Name\n2027-03-15,60.00,${reference},Ada`)
  const [late] = (await desk()).open
  expect(late?.suggestion?.parts).toEqual([
    { to: 'unplaced', amountMinor: 6000, of: expect.objectContaining({ buyer: 'Ada', lot: number }) },
  ])
  await treasurer.bank.confirm({ key: formKey(), lineId: late?.id ?? '' })
  const { statement, unplaced } = await books()
  expect(statement.lots[0]).toMatchObject({ buyer: 'Bo', owedMinor: 6000 })
  expect(unplaced).toMatchObject([{ payer: 'Ada', leftMinor: 6000 }])
})

test('a file with one slip or one open question is kept out whole', async () => {
  const { take, desk, reference } = await sold()
  expect((await refusedAt(take('date,amount\n2027-03-14,5.00\n2027-03-14,lots'))).file).toContain('Line 3')
  expect(await refusedAt(take('date,amount\n03/02/2027,62.00'))).toHaveProperty('dayOrder')
  expect(await refusedAt(take(`date,amount,words\n2027-03-14,-62.00,${reference}\n2027-03-14,1.00,a`))).toHaveProperty('sign')
  expect(await refusedAt(take('date,amount,words\n2027-03-14,5.00,tea\n2027-03-14,5.00,tea'))).toHaveProperty('twins')
  expect((await desk()).open).toEqual([])
  expect(await take('date,amount\n03/02/2027,62.00', { dayOrder: 'day first' })).toEqual({ fresh: 1, known: 0 })
})

test('a preview shows every line and which are here already, and keeps nothing', async () => {
  const { treasurer, take, desk } = await sold()
  const text = 'Date,Amount,Details\n2027-03-14,5.00,tea\n2027-03-15,6.00,cake'
  await take(text.split('\n').slice(0, 2).join('\n'))
  const seen = await treasurer.bank.preview({ name: 'x.csv', text })
  expect(seen.rows.map(({ isKnown }) => isKnown)).toEqual([true, false])
  expect(seen).toMatchObject({ fresh: 1, flaws: [], questions: [] })
  expect((await desk()).open).toHaveLength(1)
  const bytes = Buffer.from(`\ufeff${text}`, 'utf16le').toString('base64')
  expect((await treasurer.bank.preview({ name: 'x.csv', base64: bytes })).table.encoding).toBe('UTF-16')
  expect(await makeBidder(stage, 'Cy')).toBeDefined()
})

test('a bank’s columns are said once: its next file is read so, another account’s is not, and it can be changed and forgotten', async () => {
  const { treasurer, desk } = await sold()
  const file = (day: string, account: string, words: string) => `Account;Wann;Wieviel;Text\n${account};${day};-5,00;${words}`
  const columns = ['account', 'date', 'amount', 'words']
  const look = (text: string, choice = {}) => treasurer.bank.preview({ name: 'next.csv', text, ...choice })
  expect((await look(file('03/04/2026', 'A-1', 'tea'))).flaws.length).toBeGreaterThan(0)
  const said = { columns, dayOrder: 'month first', sign: 'turned' } as const
  await treasurer.bank.import({ name: 'march.csv', text: file('03/04/2026', 'A-1', 'tea'), ...said })
  expect((await desk()).layouts).toMatchObject([{ account: 'A-1', file: 'march.csv', dayOrder: 'month first', isTurned: true }])

  const next = await look(file('04/05/2026', 'A-1', 'milk'))
  expect(next).toMatchObject({ flaws: [], fresh: 1, remembered: { file: 'march.csv' }, rows: [{ on: '2026-04-05', amountMinor: 500 }] })
  // A day after the twelfth is read as it can only be.
  expect((await look(file('25/05/2026', 'A-1', 'milk'))).rows).toMatchObject([{ on: '2026-05-25' }])
  expect(await look(file('04/05/2026', 'B-2', 'milk'))).toMatchObject({ remembered: null, rows: [] })
  expect(await look(file('04/05/2026', 'A-1', 'milk'), { afresh: true })).toMatchObject({ remembered: null, rows: [] })
  // What was answered of single lines leaves the rest as it is remembered.
  expect(await look(file('04/05/2026', 'A-1', 'milk'), { twins: 'each' })).toMatchObject({ remembered: { file: 'march.csv' } })
  expect(await treasurer.bank.import({ name: 'april.csv', text: file('04/05/2026', 'A-1', 'milk') })).toEqual({ fresh: 1, known: 0 })

  await treasurer.bank.import({ name: 'may.csv', text: file('05/06/2026', 'A-1', 'bread'), ...said, dayOrder: 'day first' })
  const { layouts } = await desk()
  expect(layouts).toMatchObject([{ file: 'may.csv', dayOrder: 'day first' }])
  const layoutId = layouts[0]?.id ?? ''
  await treasurer.bank.forgetLayout({ layoutId })
  expect((await desk()).layouts).toEqual([])
  expect(await refusedAt(treasurer.bank.forgetLayout({ layoutId }))).toHaveProperty('layoutId')
  expect(await look(file('04/05/2026', 'A-1', 'milk'))).toMatchObject({ remembered: null, rows: [] })
})

test('of a file with neither headings nor an account nothing is remembered: it could be any bank’s', async () => {
  const { take, desk } = await sold()
  await take('2027-03-14;-5,00;tea', {
    hasHeading: false,
    columns: ['date', 'amount', 'words'],
    delimiter: 'semicolon',
    sign: 'as it stands',
  })
  expect((await desk()).layouts).toEqual([])
  await take('Wann;Wieviel\n2027-03-14;5,00', { columns: ['date', 'amount'] })
  expect((await desk()).layouts).toMatchObject([{ account: '', columns: [{ heading: 'Wann', column: 'date' }, { column: 'amount' }] }])
})
