import { afterEach, describe, expect, test } from 'vitest'
import { campaign } from '#db/schema/index'
import { reviewLetter } from '#doors/web/letter-reviews'
import { DAY, HOUR } from '#kernel/instant'
import { paymentReminderSweep } from '#money/invoices/reminders.service'
import { NOT_KNOWN, rewriteLetter } from '#people/outbox/outbox.service'
import { updateLetter } from '#people/outbox/outbox.store'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeBidder } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openPdf, pagesOf, scanQr } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const TERMS = {
  accountName: 'Long Bench workshop',
  iban: 'GB82 WEST 1234 5698 7654 32',
  bic: '',
  dueDays: '7',
  reminderDays: '2, 4, 7',
  remindersAlone: false,
  offerAfterDays: '10',
  offerOpenDays: '3',
}

async function soldLot() {
  stage = openStage()
  return makeSoldLot(stage)
}

const mailsTo = (name: string) => stage.letters().filter(({ recipient }) => recipient === `${name}@bidder.example`)

describe('the invoice', () => {
  test('goes out by email at the close, with who sells, who benefits, the estimate, the reference and the day', async () => {
    const { number } = await soldLot()
    const [mail] = mailsTo('ada')
    expect(mail?.subject).toBe(`You won lot ${number}, Saltmarsh shortwave receiver`)
    for (const words of [
      '£50.00',
      'Together: £62.00',
      'RF',
      '20 March 2027',
      'Ferry Lane Repair School',
      'estimate published before bidding',
      `/me/won/${number}`,
      'Long Bench workshop',
    ])
      expect(mail?.body).toContain(words)
  })

  test('is seen by its buyer and the staff; for everybody else there is none', async () => {
    const { number, ada, bo, treasurer } = await soldLot()
    expect(await ada.caller.invoices.page({ lot: number })).toMatchObject({
      owedMinor: 6200,
      dueOn: '2027-03-20',
      country: 'United Kingdom',
      code: null,
    })
    expect(await treasurer.invoices.page({ lot: number })).toMatchObject({ buyer: 'Ada' })
    await expect(bo.caller.invoices.page({ lot: number })).rejects.toThrow('You have no invoice')
  })

  test('carries a payment code that a bank reads, when it is in euros and an account is set', async () => {
    const { number, ada, treasurer } = await soldLot()
    await treasurer.invoices.saveTerms(TERMS)
    expect((await ada.caller.invoices.page({ lot: number })).payment).toBeNull()
    await stage.command(({ db }) => db.update(campaign).set({ currency: 'EUR' }).run())
    const view = await ada.caller.invoices.page({ lot: number })
    const said = `BCD\n002\n1\nSCT\n\nLong Bench workshop\nGB82WEST12345698765432\nEUR62.00\n\n${view.reference.replaceAll(' ', '')}`
    expect(view.payment).toBe(said)
    const door = await openStageDoor(stage)
    const cookie = await door.sessionOf(ada.actor.personId)
    const pdf = await openPdf(
      Buffer.from(await (await fetch(`${door.url}/lots/${number}/invoice.pdf`, { headers: { cookie } })).arrayBuffer()),
    )
    expect(await scanQr(pdf)).toMatchObject({ text: said, level: 'M' })
    const words = (await pagesOf(pdf)).join(' ').replaceAll(/\s+/g, ' ')
    for (const one of [
      'To pay: €62.00',
      view.reference,
      'GB82 WEST 1234 5698 7654 32',
      'by 20 March 2027',
      'Write to the seller within 14 days',
    ])
      expect(words).toContain(one)
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
    expect(await ada.caller.invoices.page({ lot: number })).toMatchObject({ payment: null, state: 'paid' })
    door.close()
  })

  test.each([
    ['iban', { iban: 'GB82 WEST 1234 5698 7654 23' }],
    ['bic', { bic: 'BANK' }],
    ['accountName', { accountName: '' }],
    ['dueDays', { dueDays: '0' }],
    ['reminderDays', { reminderDays: '4, 2' }],
    ['reminderDays', { reminderDays: 'soon' }],
    ['offerAfterDays', { offerAfterDays: '7' }],
  ])('a slip in the terms is named at %s', async (field, change) => {
    stage = openStage()
    const treasurer = await stage.as('treasurer')
    expect(await refusedAt(treasurer.invoices.saveTerms({ ...TERMS, ...change }))).toHaveProperty(field)
  })
})

describe('reminders', () => {
  test('fall due 2, 4 and 7 days after the due day, are read before they go, and stop when it is paid', async () => {
    const { number, treasurer } = await soldLot()
    const falls = async () => (await treasurer.invoices.due())[0]?.falls
    stage.clock.pass(8 * DAY)
    expect(await falls()).toEqual({ is: 'waits', step: 1, on: '2027-03-22' })
    expect(await treasurer.invoices.propose({ lot: number })).toBeNull()
    stage.clock.pass(DAY)
    expect(await falls()).toEqual({ is: 'reminder', step: 1 })
    const letter = await treasurer.invoices.propose({ lot: number })
    expect(letter).toMatchObject({ step: 1, to: 'ada@bidder.example' })
    expect(letter?.body).toContain('£62.00')
    await treasurer.invoices.remind({ key: formKey(), lot: number, step: 1, subject: 'In our own words', body: 'We have not seen it yet.' })
    expect(mailsTo('ada').at(-1)).toMatchObject({ subject: 'In our own words', body: 'We have not seen it yet.' })
    expect(await falls()).toMatchObject({ is: 'waits', step: 2 })
    await expect(
      treasurer.invoices.remind({ key: formKey(), lot: number, step: 1, subject: 'Again', body: 'Once too often.' }),
    ).rejects.toThrow('already gone out')
    stage.clock.pass(5 * DAY)
    expect(await falls()).toEqual({ is: 'reminder', step: 3 })
    expect((await treasurer.invoices.propose({ lot: number }))?.body).toContain('we end this sale')
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
    expect(await treasurer.invoices.due()).toEqual([])
  })

  test('leave by themselves at nine in the morning where that was said, each once', async () => {
    const { treasurer } = await soldLot()
    await treasurer.invoices.saveTerms({ ...TERMS, remindersAlone: true })
    const before = mailsTo('ada').length
    const at = paymentReminderSweep.nextAt(stage.sight())
    expect(at).toBe(Date.parse('2027-03-22T09:00:00Z'))
    stage.clock.set((at ?? 0) - 1)
    await stage.command(paymentReminderSweep.run)
    expect(mailsTo('ada')).toHaveLength(before)
    stage.clock.set(at ?? 0)
    await stage.command(paymentReminderSweep.run)
    await stage.command(paymentReminderSweep.run)
    expect(mailsTo('ada')).toHaveLength(before + 1)
    expect(paymentReminderSweep.nextAt(stage.sight())).toBe(Date.parse('2027-03-24T09:00:00Z'))
  })
})

describe('a reminder that waits in the outbox', () => {
  const waiting = () => mailsTo('ada').filter(({ subject, withdrawnAt }) => /reminder/i.test(subject) && withdrawnAt === null)

  async function reminded() {
    const sold = await soldLot()
    await sold.treasurer.invoices.saveTerms({ ...TERMS, remindersAlone: true })
    stage.clock.set(Date.parse('2027-03-22T09:00:00Z'))
    await stage.command(paymentReminderSweep.run)
    expect(waiting()).toHaveLength(1)
    return sold
  }
  const pay = ({ treasurer, number }: Awaited<ReturnType<typeof soldLot>>, amount: string) =>
    treasurer.booking.pay({ key: formKey(), lot: number, amount, reference: '', on: '' })

  test('is withdrawn when the money has come, and falls due again when that payment is taken back', async () => {
    const sold = await reminded()
    const { entryId } = await pay(sold, '62')
    expect(waiting()).toEqual([])
    await sold.treasurer.booking.correct({ key: formKey(), entryId, why: 'It was for another lot.' })
    expect((await sold.treasurer.invoices.due())[0]).toMatchObject({ falls: { is: 'reminder', step: 1 }, sent: [] })
    await stage.command(paymentReminderSweep.run)
    expect(waiting()).toHaveLength(1)
  })

  test('asks for what is still owed when a part of the money has come', async () => {
    const sold = await reminded()
    await pay(sold, '20')
    expect(waiting()).toMatchObject([{ subject: `A reminder: lot ${sold.number}, £42.00 to pay` }])
    expect(waiting()[0]?.body).toContain('the rest of the money')
  })

  test('is withdrawn where a person wrote it and a part came, so that they write it anew', async () => {
    const sold = await soldLot()
    stage.clock.pass(9 * DAY)
    const words = { subject: 'A reminder of ours', body: '£62.00 are still to come.' }
    await sold.treasurer.invoices.remind({ key: formKey(), lot: sold.number, step: 1, ...words })
    await pay(sold, '20')
    expect(waiting()).toEqual([])
    expect((await sold.treasurer.invoices.due())[0]?.falls).toEqual({ is: 'reminder', step: 1 })
  })

  test('that has gone out stays, and so does one of which nobody knows yet', async () => {
    const sold = await reminded()
    const [letter] = waiting()
    const given = { id: letter?.id ?? '', change: { lastError: NOT_KNOWN } }
    await stage.command(({ db }) => updateLetter(db, given.id, given.change))
    await pay(sold, '62')
    expect(waiting()).toHaveLength(1)
    // The postman asks before each try.
    await stage.command((turn) => rewriteLetter(turn, given.id, reviewLetter(turn, given.id)))
    expect(waiting()).toEqual([])
  })

  test('goes to nobody whose sale has ended', async () => {
    const sold = await reminded()
    stage.clock.pass(9 * DAY)
    await sold.treasurer.invoices.offer({ key: formKey(), lot: sold.number, why: 'It was not paid in ten days.' })
    expect(waiting()).toEqual([])
  })
})

describe('an offer to the underbidder', () => {
  test('ends the unpaid sale and offers the lot to the one behind at their own highest bid, as a new contract with its own invoice', async () => {
    const { number, treasurer, ada, bo, books } = await soldLot()
    stage.clock.pass(18 * DAY)
    expect((await treasurer.invoices.due())[0]?.falls).toEqual({ is: 'offer', reminder: 3 })
    expect((await treasurer.invoices.propose({ lot: number }))?.body).toContain('We can end this sale from now on')
    expect((await treasurer.invoices.underbidder({ lot: number })).next).toMatchObject({ name: 'Bo', priceMinor: 4800, postageMinor: 1200 })
    const { offerId } = await treasurer.invoices.offer({ key: formKey(), lot: number, why: 'It was not paid in ten days.' })
    expect((await books()).statement.lots[0]).toMatchObject({ state: 'fell through', owedMinor: 0 })
    expect(mailsTo('ada').at(-1)?.subject).toContain('has ended')
    await expect(ada.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: true })).rejects.toThrow('no such offer')
    expect(await bo.caller.invoices.myOffers()).toMatchObject([{ lot: number, priceMinor: 4800, answer: null }])
    await bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: true })
    expect(await bo.caller.invoices.page({ lot: number })).toMatchObject({
      by: 'underbidder',
      hammerMinor: 4800,
      owedMinor: 6000,
      dueOn: '2027-04-07',
    })
    await expect(ada.caller.invoices.page({ lot: number })).rejects.toThrow('You have no invoice')
    expect((await books()).statement).toMatchObject({ varianceMinor: 0, unpaidMinor: 6000 })
    await expect(bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: false })).rejects.toThrow('has been answered')
  })

  test('never goes to somebody connected with the lot: it says whom it passed over and why', async () => {
    const { number, treasurer, bo } = await soldLot()
    await bo.caller.bidding.disclose({ lot: number, kind: 'household', words: 'We share a kitchen.' })
    const { next, passedOver } = await treasurer.invoices.underbidder({ lot: number })
    expect(next).toBeNull()
    expect(passedOver).toEqual([{ name: 'Bo', why: expect.stringContaining('connected with this lot') }])
    expect(await refusedAt(treasurer.invoices.offer({ key: formKey(), lot: number, why: 'Not paid.' }))).toHaveProperty('lot')
  })

  test('is over at its last instant, and may then go to the next one', async () => {
    const { number, treasurer, bo } = await soldLot()
    const { offerId } = await treasurer.invoices.offer({ key: formKey(), lot: number, why: 'It was not paid.' })
    stage.clock.pass(3 * DAY)
    await expect(bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: true })).rejects.toThrow('is over')
    expect(await refusedAt(treasurer.invoices.offer({ key: formKey(), lot: number, why: 'It was not paid.' }))).toHaveProperty('lot')
  })

  test('is not offered for a lot that is paid, and an open one is taken back', async () => {
    const { number, treasurer, bo } = await soldLot()
    await makeBidder(stage, 'Cy')
    const { offerId } = await treasurer.invoices.offer({ key: formKey(), lot: number, why: 'It was not paid.' })
    await expect(treasurer.invoices.offer({ key: formKey(), lot: number, why: 'It was not paid.' })).rejects.toThrow('is open')
    await treasurer.invoices.takeBackOffer({ offerId })
    stage.clock.pass(HOUR)
    await expect(bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: true })).rejects.toThrow('has been answered')
  })

  test('a lot that is paid is offered to nobody', async () => {
    const { number, treasurer } = await soldLot()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
    expect((await refusedAt(treasurer.invoices.offer({ key: formKey(), lot: number, why: 'A slip.' }))).lot).toContain('is paid')
  })
})
