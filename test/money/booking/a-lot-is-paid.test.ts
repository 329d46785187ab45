import { afterEach, describe, expect, it } from 'vitest'
import { entry, posting } from '#db/schema/index'
import { MINUTE } from '#kernel/instant'
import { isGoodCreditorReference } from '#money/journal/creditor-reference.rules'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeCampaign } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const KEY = 'a key of the form'

/** A lot that sold to Ada for 50.00, with 12.00 postage, at 90 % for the cause. */
async function soldLot() {
  stage = openStage()
  const { number } = await makeOpenLot(stage, { closesIn: 30 * MINUTE, sharePercent: '90' })
  const ada = await makeBidder(stage, 'Ada')
  const bo = await makeBidder(stage, 'Bo')
  await bo.bid(number, '48')
  await ada.bid(number, '60')
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  const treasurer = await stage.as('treasurer')
  const lot = (await treasurer.books.all())?.statement.lots[0]
  if (!lot) throw new Error('the lot was not sold')
  return { treasurer, number, lot }
}

describe('a bid, a hammer, a payment, a remittance', () => {
  it('moves from bid to won to paid to remitted and is in one state at a time', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage, { closesIn: 30 * MINUTE, sharePercent: '90' })
    const ada = await makeBidder(stage, 'Ada')
    const meter = async () => {
      const { bidMinor, wonMinor, paidMinor, remittedMinor } = (await stage.visitor().proceeds.meter()) ?? {}
      return { bidMinor, wonMinor, paidMinor, remittedMinor }
    }
    expect(await meter()).toEqual({ bidMinor: 0, wonMinor: 0, paidMinor: 0, remittedMinor: 0 })
    await ada.bid(number, '60')
    expect(await meter()).toEqual({ bidMinor: 1_800, wonMinor: 0, paidMinor: 0, remittedMinor: 0 })
    stage.clock.pass(31 * MINUTE)
    await stage.command(closeDueLots)
    expect(await meter()).toEqual({ bidMinor: 0, wonMinor: 1_800, paidMinor: 0, remittedMinor: 0 })
    const treasurer = await stage.as('treasurer')
    await treasurer.booking.pay({ key: `${KEY} 1`, lot: number, amount: '32.00', reference: '', on: '' })
    expect(await meter()).toEqual({ bidMinor: 0, wonMinor: 0, paidMinor: 1_800, remittedMinor: 0 })
    await treasurer.booking.remit({ key: `${KEY} 2`, amount: '18.00', reference: 'T-1', on: '' })
    expect(await meter()).toEqual({ bidMinor: 0, wonMinor: 0, paidMinor: 0, remittedMinor: 1_800 })
  })

  it('a bid under an unreached reserve is not on the meter', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage, { form: { reserveKind: 'amount', reserve: '100' } })
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '60')
    expect(await stage.visitor().proceeds.meter()).toMatchObject({ bidMinor: 0 })
    await ada.bid(number, '120')
    expect(await stage.visitor().proceeds.meter()).toMatchObject({ bidMinor: 10_000 })
  })

  it('a gift of money counts whole and is sent on like the rest', async () => {
    stage = openStage()
    await makeCampaign(stage, { causeSharePercent: '50' })
    const treasurer = await stage.as('treasurer')
    await treasurer.booking.give({ key: KEY, from: 'A reader', amount: '25', reference: '', on: '' })
    expect(await stage.visitor().proceeds.meter()).toMatchObject({ paidMinor: 2_500, giftMinor: 2_500, countedMinor: 2_500 })
  })
})

describe('marking a lot paid', () => {
  it('shows the treasurer what is owed, to whom, under a good reference', async () => {
    const { lot } = await soldLot()
    expect(lot).toMatchObject({
      buyer: 'Ada',
      hammerMinor: 5_000,
      causeMinor: 4_500,
      postageMinor: 1_200,
      owedMinor: 6_200,
      state: 'won',
    })
    expect(isGoodCreditorReference(lot.reference)).toBe(true)
  })

  it('a part payment covers postage first', async () => {
    const { treasurer, number } = await soldLot()
    await treasurer.booking.pay({ key: KEY, lot: number, amount: '12', reference: '', on: '' })
    expect(await stage.visitor().proceeds.meter()).toMatchObject({ wonMinor: 4_500, paidMinor: 0 })
    const books = await treasurer.books.all()
    expect(books?.statement.lots[0]).toMatchObject({ state: 'part paid', owedMinor: 5_000 })
  })

  it('the same form sent twice is one payment', async () => {
    const { treasurer, number } = await soldLot()
    const form = { key: KEY, lot: number, amount: '20', reference: '', on: '' }
    expect(await treasurer.booking.pay(form)).toEqual(await treasurer.booking.pay(form))
    expect((await treasurer.books.all())?.statement.receivedMinor).toBe(2_000)
    await expect(treasurer.booking.pay({ ...form, amount: '21' })).rejects.toThrow('already sent with different content')
  })

  it('a penny too much is refused at the amount, the exact sum is taken', async () => {
    const { treasurer, number } = await soldLot()
    const pay = (amount: string, key: string) => treasurer.booking.pay({ key, lot: number, amount, reference: '', on: '' })
    expect((await refusedAt(pay('62.01', `${KEY} 1`))).amount).toContain('£0.01 too much')
    await pay('62.00', `${KEY} 2`)
    expect((await refusedAt(pay('0.01', `${KEY} 3`))).lot).toContain('paid in full')
  })

  it.each(['', '0', '-1', '−1', '1e308', 'ten', '1.005', '99999999999999999999'])('"%s" is refused at the amount', async (amount) => {
    const { treasurer, number } = await soldLot()
    const fields = await refusedAt(treasurer.booking.pay({ key: KEY, lot: number, amount, reference: '', on: '' }))
    expect(Object.keys(fields)).toEqual(['amount'])
    expect(
      stage.db
        .select()
        .from(entry)
        .all()
        .filter(({ kind }) => kind === 'payment'),
    ).toEqual([])
  })

  it('full-width digits are read', async () => {
    const { treasurer, number } = await soldLot()
    await treasurer.booking.pay({ key: KEY, lot: number, amount: '２０．００', reference: '', on: '' })
    expect((await treasurer.books.all())?.statement.receivedMinor).toBe(2_000)
  })

  it('a day that has not come, and one that does not exist, are refused at the day', async () => {
    const { treasurer, number } = await soldLot()
    const pay = (on: string) => treasurer.booking.pay({ key: KEY, lot: number, amount: '20', reference: '', on })
    expect((await refusedAt(pay('2027-03-14'))).on).toContain('has not come yet')
    expect((await refusedAt(pay('2027-02-30'))).on).toContain('no day 2027-02-30')
    expect((await refusedAt(pay('13/3/2027'))).on).toContain('like 2027-03-14')
    await pay('2027-03-13')
  })

  it('a lot that is not sold, and one that is not there, are refused at the lot', async () => {
    const { treasurer } = await soldLot()
    await makeOpenLot(stage, { tag: 'TERN-04' })
    const pay = (lot: number) => treasurer.booking.pay({ key: KEY, lot, amount: '20', reference: '', on: '' })
    expect((await refusedAt(pay(2))).lot).toContain('has not been sold')
    expect((await refusedAt(pay(99))).lot).toContain('no lot 99')
  })
})

describe('sending on and putting right', () => {
  it('no more is sent on than has come in for the cause', async () => {
    const { treasurer, number } = await soldLot()
    await treasurer.booking.pay({ key: `${KEY} 1`, lot: number, amount: '62', reference: '', on: '' })
    const remit = (amount: string, key: string) => treasurer.booking.remit({ key, amount, reference: '', on: '' })
    expect((await refusedAt(remit('45.01', `${KEY} 2`))).amount).toContain('Only £45.00')
    await remit('45.00', `${KEY} 3`)
    const books = await treasurer.books.all()
    expect(books?.statement).toMatchObject({ toRemitMinor: 0, remittedMinor: 4_500, varianceMinor: 0, varianceAt: [] })
    expect(books?.statement.lots[0]?.state).toBe('remitted')
  })

  it('an entry is taken back by another, once, and nothing is changed', async () => {
    const { treasurer, number } = await soldLot()
    const { entryId } = await treasurer.booking.pay({ key: `${KEY} 1`, lot: number, amount: '20', reference: '', on: '' })
    const back = (key: string, id = entryId) => treasurer.booking.correct({ key, entryId: id, why: 'It was for another lot.' })
    const correction = await back(`${KEY} 2`)
    expect((await treasurer.books.all())?.statement).toMatchObject({ receivedMinor: 0, varianceMinor: 0 })
    expect((await refusedAt(back(`${KEY} 3`))).entryId).toContain('already been reversed')
    expect((await refusedAt(back(`${KEY} 4`, correction.entryId))).entryId).toContain('is itself a correction')
    expect(() => stage.db.delete(posting).run()).toThrow('never removed')
    expect(() => stage.db.update(entry).set({ memo: 'x' }).run()).toThrow('never changed')
  })

  it('a payment that was sent on already cannot be pulled from under it', async () => {
    const { treasurer, number } = await soldLot()
    const { entryId } = await treasurer.booking.pay({ key: `${KEY} 1`, lot: number, amount: '62', reference: '', on: '' })
    await treasurer.booking.remit({ key: `${KEY} 2`, amount: '45.00', reference: '', on: '' })
    const words = await refusedAt(treasurer.booking.correct({ key: `${KEY} 3`, entryId, why: 'A mistake of the bank.' }))
    expect(words.entryId).toContain('reverse those first')
    expect((await treasurer.books.all())?.statement.receivedMinor).toBe(6_200)
  })

  it('a hammer price stays', async () => {
    const { treasurer } = await soldLot()
    const hammer = (await treasurer.books.all())?.journal.find(({ kind }) => kind === 'hammer')
    expect((await refusedAt(treasurer.booking.correct({ key: KEY, entryId: hammer?.id ?? '', why: 'Too low.' }))).entryId).toContain(
      'cannot be reversed',
    )
  })

  it('postage is changed by the difference, and what is then paid too much is owed back', async () => {
    const { treasurer, number } = await soldLot()
    await treasurer.booking.postage({ key: `${KEY} 1`, lot: number, amount: '20' })
    expect((await treasurer.books.all())?.statement.lots[0]).toMatchObject({ postageMinor: 2_000, owedMinor: 7_000 })
    await treasurer.booking.pay({ key: `${KEY} 2`, lot: number, amount: '70', reference: '', on: '' })
    await treasurer.booking.postage({ key: `${KEY} 3`, lot: number, amount: '10' })
    const books = await treasurer.books.all()
    expect(books?.statement).toMatchObject({ unpaidMinor: 0, unplacedMinor: 1_000, varianceMinor: 0 })
    expect(books?.unplaced).toMatchObject([{ isOwedBack: true, payer: 'Ada', leftMinor: 1_000 }])
    const { entries } = await treasurer.changes.list({ kind: 'postage', by: null, below: null })
    expect(
      entries
        .filter(({ what }) => what === `the postage of lot ${number}`)
        .map(({ before, after }) => [before, after])
        .slice(0, 2),
    ).toEqual([
      ['£20.00', '£10.00'],
      [expect.any(String), '£20.00'],
    ])
  })

  it('every entry in the journal sums to nought', async () => {
    const { treasurer, number } = await soldLot()
    await treasurer.booking.pay({ key: `${KEY} 1`, lot: number, amount: '33.33', reference: '', on: '' })
    await treasurer.booking.give({ key: `${KEY} 2`, from: 'A reader', amount: '25', reference: '', on: '' })
    for (const { postings } of (await treasurer.books.all())?.journal ?? []) {
      expect(postings.reduce((sum, { amountMinor }) => sum + amountMinor, 0)).toBe(0)
    }
  })
})

describe('who may', () => {
  it('the maker reads the books and writes nothing in them', async () => {
    await soldLot()
    const maker = await stage.as('maker')
    expect((await maker.books.all())?.mayWrite).toBe(false)
    await expect(maker.booking.remit({ key: KEY, amount: '1', reference: '', on: '' })).rejects.toThrow('done by the treasurer')
  })

  it('before there is a campaign there is no meter', async () => {
    stage = openStage()
    expect(await stage.visitor().proceeds.meter()).toBeNull()
  })
})
