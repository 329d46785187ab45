import { createHash } from 'node:crypto'
import { afterEach, describe, expect, test } from 'vitest'
import { campaign } from '#db/schema/index'
import { HOUR, MINUTE } from '#kernel/instant'
import { keepSheets } from '#money/documents/papers.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeCampaign } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { codesOf, openPdf, pagesOf, scanQr } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const ADDRESS = '2 Quay Lane\nHarbour HA1 2QL\nUnited Kingdom'
const TERMS = {
  ...{ accountName: 'Long Bench workshop', iban: 'GB82 WEST 1234 5698 7654 32', bic: '', dueDays: '7', reminderDays: '2, 4, 7' },
  ...{ remindersAlone: false, offerAfterDays: '10', offerOpenDays: '3' },
}

async function sold() {
  stage = openStage()
  const made = await makeSoldLot(stage)
  const issue = (lots = [made.number]) => made.ada.caller.documents.issueMine({ key: formKey(), lots, name: 'Ada Quill', address: ADDRESS })
  const documents = async () => (await made.treasurer.documents.desk()).documents
  return { ...made, issue, documents }
}

/** Two lots that Ada won, and one that Bo did. */
async function threeSold() {
  stage = openStage()
  const lots = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' }), await makeOpenLot(stage, { tag: 'TERN-05' })]
  const [ada, bo] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Bo')]
  await ada.bid(1, '60')
  await ada.bid(2, '60')
  await bo.bid(3, '60')
  stage.clock.set(Math.max(...lots.map(({ closesAt }) => closesAt)) + 10 * MINUTE)
  await stage.command(closeDueLots)
  return { ada, bo, treasurer: await stage.as('treasurer') }
}

const keep = () => keepSheets({ sight: stage.sight, command: stage.command, print: stage.house.press.print })

async function sheet(lot: number, number: number, personId: string): Promise<{ bytes: Buffer; words: string }> {
  const door = await openStageDoor(stage)
  const answer = await fetch(`${door.url}/lots/${lot}/invoices/${number}.pdf`, { headers: { cookie: await door.sessionOf(personId) } })
  const bytes = Buffer.from(await answer.arrayBuffer())
  door.close()
  const words = answer.ok ? (await pagesOf(await openPdf(Buffer.from(bytes)))).join(' ').replaceAll(/\s+/g, ' ') : String(answer.status)
  return { bytes, words }
}

describe('an invoice', () => {
  test('has a number, a date, both parties with their addresses, its lines, the account and the reference', async () => {
    const { issue, ada, number, treasurer } = await sold()
    await treasurer.invoices.saveTerms(TERMS)
    expect(await issue()).toEqual({ number: 1 })
    await keep()
    const { words } = await sheet(number, 1, ada.actor.personId)
    const { reference } = await ada.caller.invoices.page({ lot: number })
    for (const part of [
      ...[
        'Invoice',
        'No. 0001',
        'Date of issue. 13 March 2027',
        'Long Bench workshop',
        '4 Slip Road, Ferry Lane',
        'Ada Quill',
        '2 Quay Lane',
      ],
      ...['Harbour HA1 2QL', '£50.00', '£12.00', 'Together £62.00', 'GB82 WEST 1234 5698 7654 32', reference, '20 March 2027'],
      ...['No tax is stated.', '90 % of the price goes to it'],
    ])
      expect(words).toContain(part)
  })

  test('never changes: not by payments, refunds, a new account, another price, nor by whoever writes to the table', async () => {
    const { issue, ada, number, treasurer } = await sold()
    await issue()
    await keep()
    const before = (await sheet(number, 1, ada.actor.personId)).bytes
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
    await treasurer.booking.refund({ key: formKey(), of: 'lot', lot: number, amount: '10', why: 'Sent by mistake.' })
    await treasurer.invoices.saveTerms(TERMS)
    await treasurer.booking.reduce({ key: formKey(), lot: number, amount: '5', why: 'A dent.' })
    await makeCampaign(stage, { sellerName: 'Another name' })
    await keep()
    const after = await sheet(number, 1, ada.actor.personId)
    expect(after.bytes.equals(before)).toBe(true)
    const digest = (await treasurer.documents.desk()).documents[0]?.sha256
    expect(digest).toBe(createHash('sha256').update(before).digest('hex'))
    for (const sql of [
      `UPDATE invoice_document SET content = '{}'`,
      'DELETE FROM invoice_paper',
      'DELETE FROM invoice_document WHERE number = 2',
      `UPDATE invoice_paper SET pdf = 'x'`,
    ])
      expect(() => stage.db.$client.exec(sql)).toThrow('an invoice is never')
    expect(() =>
      stage.db.$client.exec(
        `INSERT INTO invoice_document SELECT 9, kind, about, person_id, issued_at, issued_by_person_id, content FROM invoice_document WHERE number = 1`,
      ),
    ).toThrow('without gaps')
  })

  test('is followed by a credit note for what is less, and by a corrected invoice for what is more', async () => {
    const { issue, number, treasurer, documents, ada } = await sold()
    await issue()
    await treasurer.booking.reduce({ key: formKey(), lot: number, amount: '5', why: 'A dent.' })
    await treasurer.booking.postage({ key: formKey(), lot: number, amount: '15' })
    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'It was lost on the way.' })
    expect(
      (await documents()).map(({ number: no, kind, about, grossMinor, changeMinor }) => [no, kind, about, grossMinor, changeMinor]),
    ).toEqual([
      [1, 'invoice', null, 6200, 6200],
      [2, 'credit note', 1, 500, -500],
      [3, 'corrected invoice', 1, 6000, 300],
      [4, 'credit note', 3, 6000, -6000],
    ])
    expect((await treasurer.documents.desk()).invoicedMinor).toBe(0)
    const credit = await sheet(number, 2, ada.actor.personId)
    for (const part of ['Credit note', 'No. 0002', 'For invoice. No. 0001', 'A dent.', 'Credited: £5.00'])
      expect(credit.words).toContain(part)
    expect((await sheet(number, 3, ada.actor.personId)).words).toContain('£3.00 more than the invoice that it corrects')
    const mails = stage.letters().filter(({ subject }) => /^(Invoice|Credit note|Corrected invoice) No\./.test(subject))
    expect(mails.map(({ recipient }) => recipient)).toEqual(Array(4).fill('ada@bidder.example'))
  })

  test('of a buyer whose sale ended stays theirs; the next buyer has one of their own, with its own reference', async () => {
    const { issue, number, treasurer, ada, bo, documents } = await sold()
    await issue()
    const first = (await ada.caller.invoices.page({ lot: number })).reference
    const { offerId } = await treasurer.invoices.offer({ key: formKey(), lot: number, why: 'It was not paid.' })
    await bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: true })
    const second = (await bo.caller.invoices.page({ lot: number })).reference
    expect(second).not.toBe(first)
    await bo.caller.documents.issueMine({ key: formKey(), lots: [number], name: 'Bo Larkin', address: '9 Ropewalk, Harbour' })
    expect((await documents()).map(({ kind, buyer }) => [kind, buyer])).toEqual([
      ['invoice', 'Ada Quill'],
      ['credit note', 'Ada Quill'],
      ['invoice', 'Bo Larkin'],
    ])
    expect((await sheet(number, 1, ada.actor.personId)).words).toContain('Ada Quill')
    expect((await sheet(number, 3, ada.actor.personId)).words).toBe('404')
    expect((await sheet(number, 1, bo.actor.personId)).words).toBe('404')
  })

  test('is issued by itself when the lot is paid and its buyer has said where they live, once', async () => {
    const { number, treasurer, ada, documents } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
    expect(await documents()).toEqual([])
    const address = { name: 'Ada Quill', street: '2 Quay Lane', place: 'Harbour', postcode: 'HA1 2QL', country: 'GB', telephone: '' }
    await ada.caller.sending.sayAddress({ lot: number, ...address })
    await ada.caller.sending.sayAddress({ lot: number, ...address, street: '3 Quay Lane' })
    expect(await documents()).toMatchObject([{ number: 1, kind: 'invoice', buyer: 'Ada Quill', by: null, grossMinor: 6200 }])
    expect((await sheet(number, 1, ada.actor.personId)).words).toContain('2 Quay Lane')
  })

  test('made out wrongly is followed by one that puts it right, with the same lines', async () => {
    const { issue, treasurer, documents } = await sold()
    await issue()
    const anew = (name: string) =>
      treasurer.documents.makeOut({ key: formKey(), number: 1, name, address: ADDRESS, why: 'It goes to her club.' })
    expect(await refusedAt(anew('Ada Quill'))).toHaveProperty('name')
    expect(await anew('Harbour Radio Club')).toEqual({ number: 2 })
    expect((await documents())[1]).toMatchObject({
      kind: 'corrected invoice',
      about: 1,
      buyer: 'Harbour Radio Club',
      changeMinor: 0,
      grossMinor: 6200,
    })
  })

  test('is refused twice for one lot, for another’s lot, without an address, and for a lot that is not sold', async () => {
    const { issue, bo, number, treasurer } = await sold()
    const fields = { key: formKey(), lots: [number], name: 'Bo', address: ADDRESS }
    await expect(bo.caller.documents.issueMine(fields)).rejects.toThrow('You have not won')
    expect(await refusedAt(treasurer.documents.issue({ ...fields, key: formKey(), address: ' ' }))).toHaveProperty('address')
    expect(await refusedAt(treasurer.documents.issue({ ...fields, key: formKey(), lots: [99] }))).toHaveProperty('lots')
    await issue()
    expect(await refusedAt(treasurer.documents.issue({ ...fields, key: formKey() }))).toHaveProperty('lots')
  })
})

describe('the payment code on a kept sheet', () => {
  const inEuros = async (currency: 'EUR' | 'GBP' = 'EUR') => {
    const { treasurer, ada, issue } = await sold()
    await stage.command(({ db }) => db.update(campaign).set({ currency }).run())
    await treasurer.invoices.saveTerms({ ...TERMS, iban: 'DE89 3704 0044 0532 0130 00', bic: 'COBADEFFXXX' })
    const [lot] = (await treasurer.books.all())?.statement.lots ?? []
    const kept = async (number: number) => {
      await keep()
      const { bytes, words } = await sheet(1, number, ada.actor.personId)
      const pdf = await openPdf(bytes)
      return { words, codes: (await codesOf(pdf)).length, scan: () => scanQr(pdf) }
    }
    return { treasurer, issue, kept, reference: lot?.reference ?? '', owedMinor: lot?.owedMinor ?? 0 }
  }

  test('says what EPC069-12 asks for: the amount, the account and the reference as they were issued, at level M', async () => {
    const { issue, kept, reference, owedMinor, treasurer } = await inEuros()
    await issue()
    await treasurer.invoices.saveTerms({ ...TERMS, iban: 'NL91 ABNA 0417 1643 00' })
    const { words, scan } = await kept(1)
    const { text, level } = await scan()
    const amount = `EUR${(owedMinor / 100).toFixed(2)}`
    expect(text.split('\n')).toEqual([
      ...['BCD', '002', '1', 'SCT', 'COBADEFFXXX', 'Long Bench workshop', 'DE89370400440532013000', amount, '', reference],
    ])
    expect(level).toBe('M')
    expect(words).toContain('Payment code (EPC069-12)')
  })

  test('asks for what is still to pay: less once a part was paid, nothing once all of it was', async () => {
    const { issue, kept, owedMinor, treasurer } = await inEuros()
    await treasurer.booking.pay({ key: formKey(), lot: 1, amount: '10', reference: '', on: '' })
    await issue()
    expect((await (await kept(1)).scan()).text).toContain(`EUR${(owedMinor / 100 - 10).toFixed(2)}`)
    await treasurer.booking.pay({ key: formKey(), lot: 1, amount: (owedMinor / 100 - 10).toFixed(2), reference: '', on: '' })
    await treasurer.documents.makeOut({ key: formKey(), number: 1, name: 'Harbour Radio Club', address: ADDRESS, why: 'Her club.' })
    expect((await kept(2)).codes).toBe(0)
  })

  test('is never on a credit note, and a corrected invoice has its own', async () => {
    const { issue, kept, owedMinor, treasurer } = await inEuros()
    await issue()
    await treasurer.booking.reduce({ key: formKey(), lot: 1, amount: '5', why: 'A dent.' })
    expect((await kept(2)).words).toContain('Credited: €5.00')
    expect((await kept(2)).codes).toBe(0)
    await treasurer.documents.makeOut({ key: formKey(), number: 1, name: 'Harbour Radio Club', address: ADDRESS, why: 'Her club.' })
    expect((await (await kept(3)).scan()).text).toContain(`EUR${(owedMinor / 100 - 5).toFixed(2)}`)
  })

  test('is for euros alone', async () => {
    const { issue, kept } = await inEuros('GBP')
    await issue()
    expect((await kept(1)).codes).toBe(0)
  })
})

describe('tax', () => {
  test('is stated by line with net, tax and amount where the seller trades and the maker set a rate', async () => {
    const { issue, number, treasurer, ada } = await sold()
    await makeCampaign(stage, { causeSharePercent: '90', sellerKind: 'trader' })
    await treasurer.invoices.saveTerms({ ...TERMS, taxScheme: 'rate', taxRate: '20', taxNumber: 'GB 000 0000 00', taxWords: '' })
    await issue()
    const { words } = await sheet(number, 1, ada.actor.personId)
    for (const part of ['Net', 'Tax, 20 %', '£41.67', '£8.33', '£10.00', '£2.00', '£51.67', '£10.33', '£62.00', 'GB 000 0000 00'])
      expect(words).toContain(part)
  })

  test('is never stated for a private person, and a margin scheme shows none apart', async () => {
    const { issue, number, treasurer, ada } = await sold()
    const terms = { ...TERMS, taxScheme: 'margin' as const, taxWords: 'Second-hand goods.' }
    expect(await refusedAt(treasurer.invoices.saveTerms(terms))).toHaveProperty('taxScheme')
    expect(await refusedAt(treasurer.invoices.saveTerms({ ...TERMS, taxScheme: 'rate', taxRate: '' }))).toHaveProperty('taxRate')
    await makeCampaign(stage, { causeSharePercent: '90', sellerKind: 'trader' })
    await treasurer.invoices.saveTerms(terms)
    await issue()
    const { words } = await sheet(number, 1, ada.actor.personId)
    expect(words).toContain('margin scheme: no tax is shown separately. Second-hand goods.')
    expect(words).not.toContain('Net')
  })
})

describe('a buyer is one', () => {
  test('all that they won is one invoice, one reference, one payment and one reminder', async () => {
    const { ada, treasurer } = await threeSold()
    const mine = await ada.caller.documents.mine()
    expect(mine.waiting?.lots.map(({ lot }) => lot)).toEqual([1, 2])
    await ada.caller.documents.issueMine({ key: formKey(), lots: [2, 1], name: 'Ada Quill', address: ADDRESS })
    const pages = [await ada.caller.invoices.page({ lot: 1 }), await ada.caller.invoices.page({ lot: 2 })]
    const owed = pages.reduce((sum, { owedMinor }) => sum + owedMinor, 0)
    expect(new Set(pages.map(({ reference }) => reference)).size).toBe(1)
    expect(pages[0]?.together).toEqual({ lots: [1, 2], owedMinor: owed })
    expect((await treasurer.documents.desk()).documents).toMatchObject([{ lots: [1, 2], grossMinor: owed }])

    stage.clock.pass(10 * 24 * HOUR)
    const due = (await treasurer.invoices.due()).find(({ lots }) => lots.length === 2)
    expect(due).toMatchObject({ lots: [1, 2], owedMinor: owed, falls: { is: 'reminder', step: 1 } })
    const letter = await treasurer.invoices.propose({ lot: 2 })
    expect(letter?.body).toContain('for lots 1 and 2')
    const before = stage.letters().length
    await treasurer.invoices.remind({ key: formKey(), lot: 1, step: 1, subject: letter?.subject ?? '', body: letter?.body ?? '' })
    expect(stage.letters()).toHaveLength(before + 1)
    await expect(
      treasurer.invoices.remind({ key: formKey(), lot: 2, step: 1, subject: 'Once more', body: 'Once too often.' }),
    ).rejects.toThrow('already gone out')

    const bare = pages[0]?.reference.replaceAll(' ', '') ?? ''
    await treasurer.bank.import({ name: 'march.csv', text: `Date,Amount,Details\n2027-03-20,${(owed / 100).toFixed(2)},${bare}` })
    const [line] = (await treasurer.bank.desk()).open
    expect(line?.suggestion).toMatchObject({
      strength: 'sure',
      parts: [
        { to: 'lot', lot: 1 },
        { to: 'lot', lot: 2 },
      ],
    })
    await treasurer.bank.confirm({ key: formKey(), lineId: line?.id ?? '' })
    expect((await ada.caller.invoices.basket()).lots).toEqual([])
    expect((await treasurer.invoices.due()).flatMap(({ lots }) => lots)).toEqual([3])
  })

  test('a payment by hand is laid on the lots of an invoice in order; more than is owed is kept only when that is asked', async () => {
    const { ada, treasurer } = await threeSold()
    await ada.caller.documents.issueMine({ key: formKey(), lots: [1, 2], name: 'Ada Quill', address: ADDRESS })
    const { owedMinor } = (await treasurer.documents.desk()).together[0] ?? { owedMinor: 0 }
    const pay = (minor: number, over: 'refuse' | 'keep' = 'refuse') =>
      treasurer.documents.pay({ key: formKey(), number: 1, amount: (minor / 100).toFixed(2), reference: '', on: '', over })
    expect(await refusedAt(pay(owedMinor + 1))).toHaveProperty('amount')
    await pay(owedMinor - 100)
    expect((await treasurer.documents.desk()).together).toMatchObject([{ owedMinor: 100 }])
    await pay(150, 'keep')
    const books = await treasurer.books.all()
    expect(books?.statement).toMatchObject({ varianceMinor: 0, unplacedMinor: 50, receivedMinor: owedMinor + 50 })
  })

  test('lots of two buyers are never on one invoice', async () => {
    const { treasurer } = await threeSold()
    expect(
      await refusedAt(treasurer.documents.issue({ key: formKey(), lots: [1, 3], name: 'Ada Quill', address: ADDRESS })),
    ).toHaveProperty('lots')
  })
})
