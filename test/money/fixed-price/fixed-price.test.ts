import { afterEach, describe, expect, it, test } from 'vitest'
import { ALL_GOES } from '#end/deletion/contact-data.rules'
import { deleteContactsFrom } from '#end/deletion/contact-data.service'
import { DAY, HOUR, MINUTE } from '#kernel/instant'
import { lastDaySweep } from '#money/fixed-price/last-day.sweep'
import { closeDueLots } from '#sale/closings/close-due.service'
import { readHistory } from '#sale/history/history.service'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const CANCEL = 'Write to the seller within 14 days.'
const offer = (lot: number, amount = '80', lastDay = '') => ({ key: formKey(), lot, amount, lastDay, cancelWords: CANCEL })
type Caller = Awaited<ReturnType<Stage['as']>>
/** What the page sends when somebody says yes to what it shows; to another price, where one is given. */
const yes = async (caller: Caller, lot: number, priceMinor = 8_000) => ({
  key: formKey(),
  lot,
  priceMinor,
  seen: (await caller.fixedPrice.mine({ lot })).seen || '0'.repeat(64),
})
const take = async (caller: Caller, lot: number, priceMinor?: number) => caller.fixedPrice.take(await yes(caller, lot, priceMinor))

/** A lot on which nobody bid; Ada and Bo have paddles. */
async function unsoldLot(wishes = {}) {
  stage = openStage()
  const { number } = await makeOpenLot(stage, { closesIn: 30 * MINUTE, ...wishes })
  const [ada, bo] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Bo')]
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  const [maker, treasurer] = [await stage.as('maker'), await stage.as('treasurer')]
  const books = async () => (await treasurer.books.all()) as NonNullable<Awaited<ReturnType<typeof treasurer.books.all>>>
  const card = async () => (await maker.lots.all()).find((lot) => lot.number === number)
  return { number, ada, bo, maker, treasurer, books, card }
}

const mailsTo = (name: string) => stage.letters().filter(({ recipient }) => recipient === `${name}@bidder.example`)

describe('a lot that nobody bid on', () => {
  it('can be had at a price by whoever says yes first, and becomes a contract like any other', async () => {
    const { number, ada, bo, maker, treasurer, books, card } = await unsoldLot()
    const before = readHistory(stage.sight(), number)
    await maker.fixedPrice.offer(offer(number, '80', '2027-03-20'))
    expect((await card())?.fixedPrice).toEqual({ is: 'to be had', priceMinor: 8_000, lastDay: '2027-03-20' })
    expect((await books()).meter).toMatchObject({ wonMinor: 0, lots: { sold: 0, unsold: 1, toBeHad: 1 } })
    expect(await ada.caller.fixedPrice.of({ lot: number })).toMatchObject({ priceMinor: 8_000, terms: { cancelWords: CANCEL, dueDays: 7 } })
    expect(await ada.caller.fixedPrice.mine({ lot: number })).toMatchObject({
      barred: null,
      postageMinor: 1_200,
      country: 'United Kingdom',
    })

    stage.clock.pass(DAY)
    await take(ada.caller, number)
    const { statement, meter } = await books()
    expect(statement.lots).toMatchObject([
      { number, buyer: 'Ada', by: 'fixed price', state: 'won', fellAtMinor: 0, hammerMinor: 8_000, postageMinor: 1_200, owedMinor: 9_200 },
    ])
    expect(statement).toMatchObject({ hammerMinor: 8_000, varianceMinor: 0 })
    expect(meter).toMatchObject({ wonMinor: 8_000, lots: { sold: 1, unsold: 0, fellThrough: 0, toBeHad: 0 } })
    expect(await card()).toMatchObject({ state: 'unsold', hammerMinor: null, fixedPrice: { is: 'sold', priceMinor: 8_000 } })

    const invoice = await ada.caller.invoices.page({ lot: number })
    expect(invoice).toMatchObject({ by: 'fixed price', owedMinor: 9_200, dueOn: '2027-03-21', cancelWords: CANCEL })
    expect(invoice.reference).toMatch(/^RF\d\d/)
    const [mail] = mailsTo('ada').slice(-1)
    expect(mail?.subject).toContain(`Lot ${number} is yours`)
    expect(mail?.body).toContain('Together: £92.00')
    await expect(bo.caller.invoices.page({ lot: number })).rejects.toThrow('You have no invoice')

    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '92', reference: '', on: '' })
    await ada.caller.sending.sayAddress({
      lot: number,
      name: 'Ada',
      street: 'Invented Lane 1',
      place: 'Nowhere',
      postcode: 'N0 0AA',
      country: 'GB',
      telephone: '',
    })
    expect(await treasurer.sending.list()).toMatchObject([{ lot: number, stage: 'to pack' }])
    const account = await treasurer.statement.account()
    expect(account).toMatchObject({ varianceMinor: 0, sums: { hammer: 8_000, share: 8_000, paid: 9_200 } })
    expect(account?.parts[0]).toMatchObject({
      title: 'Hammer prices and fixed prices',
      lines: [{ what: expect.stringContaining('at a fixed price') }],
    })
    expect(readHistory(stage.sight(), number)).toEqual(before)
  })

  it('goes to one of two who say yes at once; the other is told, owes nothing and has no letter', async () => {
    const { number, ada, bo, maker, books } = await unsoldLot()
    await maker.fixedPrice.offer(offer(number))
    const bosLetters = mailsTo('bo').length
    const [first, second] = await Promise.allSettled([take(ada.caller, number), take(bo.caller, number)])
    expect(first.status).toBe('fulfilled')
    expect(second).toMatchObject({ status: 'rejected', reason: { message: expect.stringContaining('Somebody else was first') } })
    const { statement, journal } = await books()
    expect(statement.lots.map(({ buyer, owedMinor }) => [buyer, owedMinor])).toEqual([['Ada', 9_200]])
    expect(journal.filter(({ kind }) => kind === 'resale')).toHaveLength(1)
    expect(mailsTo('bo')).toHaveLength(bosLetters)
  })

  it('is bought once by one form, however often it is sent', async () => {
    const { number, ada, maker, books } = await unsoldLot()
    const form = offer(number)
    await maker.fixedPrice.offer(form)
    await maker.fixedPrice.offer(form)
    const said = await yes(ada.caller, number)
    expect(await ada.caller.fixedPrice.take(said)).toEqual(await ada.caller.fixedPrice.take(said))
    expect((await books()).journal.filter(({ kind }) => kind === 'resale')).toHaveLength(1)
    expect(mailsTo('ada').filter(({ subject }) => subject.includes('is yours'))).toHaveLength(1)
  })

  it('is never bought at another price than the one that was read', async () => {
    const { number, ada, maker, books, card } = await unsoldLot()
    await maker.fixedPrice.offer(offer(number))
    await maker.fixedPrice.offer(offer(number, '8.000,50'))
    expect((await card())?.fixedPrice).toMatchObject({ priceMinor: 800_050 })
    await expect(take(ada.caller, number)).rejects.toThrow('changed to £8,000.50')
    expect((await books()).journal).toHaveLength(0)
  })

  it('is never bought on other terms, or with other postage, than those that were read', async () => {
    const { number, ada, maker, treasurer, books } = await unsoldLot()
    await maker.fixedPrice.offer(offer(number))
    const read = await yes(ada.caller, number)
    await treasurer.fixedPrice.offer({ ...offer(number), cancelWords: 'There is no way to cancel.' })
    await expect(ada.caller.fixedPrice.take(read)).rejects.toThrow('how you can cancel, has changed since you saw it')
    expect((await books()).journal).toHaveLength(0)
    const changes = await maker.changes.list({ kind: 'terms', by: null, below: null })
    expect(JSON.stringify(changes)).toContain(`how a buyer of lot ${number} at its fixed price can cancel`)
    // Somebody who moves meanwhile has another postage.
    const atHome = await yes(ada.caller, number)
    await ada.caller.people.takePaddle({ name: 'Ada', country: 'DE', acceptsRules: true })
    const { postageMinor } = await ada.caller.fixedPrice.mine({ lot: number })
    expect(postageMinor).toBe(1_800)
    await expect(ada.caller.fixedPrice.take(atHome)).rejects.toThrow('The postage, or how you can cancel, has changed')
    await take(ada.caller, number)
    expect((await ada.caller.invoices.page({ lot: number })).cancelWords).toBe('There is no way to cancel.')
  })

  it('cannot be had once the price is taken back, or its last day is over', async () => {
    const { number, ada, maker, card } = await unsoldLot()
    await maker.fixedPrice.offer(offer(number))
    await maker.fixedPrice.takeBack({ key: formKey(), lot: number })
    await expect(take(ada.caller, number)).rejects.toThrow('taken back before you said yes')
    await expect(maker.fixedPrice.takeBack({ key: formKey(), lot: number })).rejects.toThrow('not offered at a fixed price')
    await maker.fixedPrice.offer(offer(number, '80', '2027-03-14'))
    const over = lastDaySweep.nextAt(stage.sight())
    expect(new Date(over ?? 0).toISOString()).toBe('2027-03-15T00:00:00.000Z')
    stage.clock.pass((over ?? 0) - stage.clock.now())
    await expect(take(ada.caller, number)).rejects.toThrow('last day is over')
    await stage.command(lastDaySweep.run)
    expect((await card())?.fixedPrice).toBeNull()
    expect(lastDaySweep.nextAt(stage.sight())).toBeNull()
  })

  it('is kept from the staff, from who has no paddle, from who is connected with it and from where it is not sent', async () => {
    const { number, maker, ada } = await unsoldLot()
    await maker.fixedPrice.offer(offer(number))
    await expect(take(maker, number)).rejects.toThrow('The staff of this sale cannot')
    const cy = await stage.as('bidder', 'Cy')
    await expect(take(cy, number)).rejects.toThrow('Take a paddle first')
    expect(await cy.fixedPrice.mine({ lot: number })).toMatchObject({ lacksPaddle: true })
    const far = await makeBidder(stage, 'Far', 'JP')
    await expect(take(far.caller, number)).rejects.toThrow('cannot be sent to the country')
    await maker.fixedPrice.offer(offer(number, '9000'))
    await expect(take(ada.caller, number, 900_000)).rejects.toThrow('Your paddle is good for up to')
  })

  it('keeps its machine out of a new lot while it can be had, and after it went', async () => {
    const { number, ada, maker, card } = await unsoldLot()
    const unit = (await card())?.unit ?? ''
    await maker.fixedPrice.offer(offer(number))
    expect((await refusedAt(maker.lots.start({ unit }))).unit).toContain('Take that back first')
    expect(await maker.lots.startable()).not.toContain(unit)
    await take(ada.caller, number)
    expect((await refusedAt(maker.lots.start({ unit }))).unit).toContain('was sold at a fixed price')
  })

  test.each([
    ['amount', { amount: '' }],
    ['amount', { amount: '0' }],
    ['amount', { amount: 'eighty' }],
    ['lastDay', { lastDay: '2027-02-30' }],
    ['lastDay', { lastDay: '2027-03-12' }],
    ['cancelWords', { cancelWords: '' }],
  ])('a slip in the price is named at %s: %j', async (field, change) => {
    const { number, maker, card } = await unsoldLot()
    expect(await refusedAt(maker.fixedPrice.offer({ ...offer(number), ...change }))).toHaveProperty(field)
    expect((await card())?.fixedPrice).toBeNull()
  })

  it('is recorded with every change, and no fact or row of it names who bought it', async () => {
    const { number, ada, maker } = await unsoldLot()
    await maker.fixedPrice.offer(offer(number))
    await maker.fixedPrice.offer(offer(number, '75', '2027-03-20'))
    await take(ada.caller, number, 7_500)
    const { entries } = await maker.changes.list({ kind: 'terms', by: null, below: null })
    expect(entries.map(({ what, before, after }) => [what, before, after])).toEqual([
      [`the fixed price of lot ${number}`, '£80.00', '£75.00, until 2027-03-20'],
      [`the fixed price of lot ${number}`, '', '£80.00'],
    ])
    const rows = JSON.stringify(stage.db.$client.prepare('SELECT * FROM fixed_price').all())
    const facts = JSON.stringify(stage.db.$client.prepare(`SELECT * FROM fact WHERE kind LIKE 'fixed-price.%'`).all())
    for (const secret of [ada.actor.personId, ada.actor.email, 'Ada']) {
      expect(rows).not.toContain(secret)
      expect(facts).not.toContain(secret)
    }
  })
})

describe('a lot whose sale fell through', () => {
  async function fellThrough() {
    stage = openStage()
    const sold = await makeSoldLot(stage)
    const maker = await stage.as('maker')
    return { ...sold, maker, cy: await makeBidder(stage, 'Cy') }
  }

  it('cannot be offered while its sale stands; after it fell through, it goes to anybody but whoever had it', async () => {
    const { number, treasurer, maker, ada, cy, books } = await fellThrough()
    await expect(maker.fixedPrice.offer(offer(number))).rejects.toThrow(`Lot ${number} is sold`)
    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'It was never paid.' })
    await maker.fixedPrice.offer(offer(number, '45'))
    await expect(take(ada.caller, number, 4_500)).rejects.toThrow('You bought this lot before')
    await take(cy.caller, number, 4_500)
    const { statement, meter } = await books()
    expect(statement.lots).toMatchObject([{ buyer: 'Cy', by: 'fixed price', fellAtMinor: 5_000, hammerMinor: 4_500 }])
    expect(statement.varianceMinor).toBe(0)
    expect(meter).toMatchObject({ wonMinor: 4_050, lots: { sold: 1, fellThrough: 0 } })
  })

  it('is offered to the next bidder or to everybody, never to both', async () => {
    const { number, treasurer, maker, bo, books } = await fellThrough()
    const next = { key: formKey(), lot: number, why: 'It was not paid in time.' }
    const { offerId } = await treasurer.invoices.offer(next)
    await expect(maker.fixedPrice.offer(offer(number))).rejects.toThrow('offered to the next bidder')
    await bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: false })
    await maker.fixedPrice.offer(offer(number))
    await expect(treasurer.invoices.offer({ ...next, key: formKey() })).rejects.toThrow('at a fixed price')
    expect((await books()).statement.varianceMinor).toBe(0)
  })

  it('is offered again where that sale fell through too, and stands no longer for all where a sale stands again', async () => {
    const { number, treasurer, maker, cy, books } = await fellThrough()
    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'It was never paid.' })
    await maker.fixedPrice.offer(offer(number))
    const hammerReversal = (await books()).journal.find(({ kind }) => kind === 'reversal')
    await treasurer.booking.correct({ key: formKey(), entryId: hammerReversal?.id ?? '', why: 'They paid after all.' })
    await expect(take(cy.caller, number)).rejects.toThrow('taken back before')

    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'It was never paid.' })
    await maker.fixedPrice.offer(offer(number))
    await take(cy.caller, number)
    const card = async () => (await maker.lots.all()).find((lot) => lot.number === number)?.fixedPrice
    expect(await card()).toMatchObject({ is: 'sold' })
    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'They cancelled.' })
    expect(await card()).toBeNull()
    const reversal = (await books()).journal.findLast(({ kind, correctedBy }) => kind === 'reversal' && correctedBy === null)
    await treasurer.booking.correct({ key: formKey(), entryId: reversal?.id ?? '', why: 'They keep it.' })
    expect(await card()).toMatchObject({ is: 'sold' })
    expect((await books()).statement.varianceMinor).toBe(0)
  })
})

test('a lot that was withdrawn goes the same way; one whose machine is set aside does not', async () => {
  stage = openStage()
  const { number, unitId } = await makeOpenLot(stage, { closesIn: HOUR })
  const maker = await stage.as('maker')
  await maker.bidding.withdraw({ lot: number, reason: 'The hall is closed.' })
  await maker.fixedPrice.offer(offer(number))
  const { caller } = await makeBidder(stage, 'Ada')
  expect(await caller.fixedPrice.of({ lot: number })).not.toBeNull()
  stage.db.$client.prepare(`UPDATE unit SET set_aside_at = 1, set_aside_reason = 'it hums' WHERE id = ?`).run(unitId)
  expect(await caller.fixedPrice.of({ lot: number })).toBeNull()
  await expect(take(caller, number)).rejects.toThrow('back on the bench')
  await expect(maker.fixedPrice.offer(offer(number))).rejects.toThrow('set aside')
})

test('every list that is public says what can still be had', async () => {
  const { number, ada, maker } = await unsoldLot()
  await maker.fixedPrice.offer(offer(number))
  const { lots } = await ada.caller.bidding.frames()
  const fixedPrice = { is: 'to be had', priceMinor: 8_000, lastDay: null }
  expect(lots.find((lot) => lot.number === number)?.fixedPrice).toEqual(fixedPrice)
  const door = await openStageDoor(stage)
  const listed = (await (await fetch(`${door.url}/lots.json`)).json()) as { lots: { number: number; fixedPrice: unknown }[] }
  expect(listed.lots.find((lot) => lot.number === number)?.fixedPrice).toEqual(fixedPrice)
  door.close()
})

test('what is left is on the way to closing out, until somebody has it', async () => {
  const { number, ada, maker } = await unsoldLot()
  const left = async () => (await maker.closeOut.checklist())?.find(({ key }) => key === 'left') ?? null
  expect(await left()).toMatchObject({ state: 'open', words: expect.stringContaining(`Nobody has lot ${number}`) })
  await maker.fixedPrice.offer(offer(number))
  expect(await left()).toMatchObject({ state: 'not-yet', words: `Lot ${number} can be had at a fixed price.` })
  await ada.caller.fixedPrice.take(await yes(ada.caller, number))
  expect(await left()).toBeNull()
})

test('who bought at a fixed price is deleted like any other buyer: nothing but their invoice keeps them, and every sum stays', async () => {
  const { number, ada, maker, treasurer } = await unsoldLot()
  await maker.fixedPrice.offer(offer(number))
  await ada.caller.fixedPrice.take(await yes(ada.caller, number))
  await treasurer.booking.pay({ key: formKey(), lot: number, amount: '92', reference: '', on: '' })
  const address = {
    name: 'Ada Ropewalk',
    street: '9 Ropewalk Steps',
    place: 'Marhavn',
    postcode: 'N0 0AA',
    country: 'GB',
    telephone: '+44 555 0144',
  }
  await ada.caller.sending.sayAddress({ lot: number, ...address })
  const known = [ada.actor.email, address.name, address.street, address.telephone]
  const cells = () => {
    const handle = stage.db.$client
    const tables = handle.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'").pluck().all()
    return tables.filter((table) => known.some((one) => JSON.stringify(handle.prepare(`SELECT * FROM "${table}"`).all()).includes(one)))
  }
  expect(cells().length).toBeGreaterThan(2)
  const account = await treasurer.statement.account()
  await stage.command((turn) => deleteContactsFrom(turn.db, ALL_GOES))
  // An invoice that was issued keeps its address as long as invoices are kept; nothing else does.
  expect(cells()).toEqual(['invoice_document'])
  expect((await treasurer.statement.account())?.sums).toEqual(account?.sums)
  expect((await treasurer.books.all())?.statement).toMatchObject({ varianceMinor: 0, lots: [{ number, by: 'fixed price', owedMinor: 0 }] })
  expect((await maker.lots.all()).find((lot) => lot.number === number)?.fixedPrice).toMatchObject({ is: 'sold', priceMinor: 8_000 })
})
