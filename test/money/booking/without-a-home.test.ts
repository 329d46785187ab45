import { afterEach, describe, expect, it } from 'vitest'
import { recordResale } from '#money/booking/undo.service'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const sold = () => {
  stage = openStage()
  return makeSoldLot(stage)
}
const on = ''
const reference = ''

describe('more came in than was owed', () => {
  it('is refused with what to do, or kept in sight when that is asked', async () => {
    const { treasurer, number, books } = await sold()
    const pay = (over: 'refuse' | 'keep') => treasurer.booking.pay({ key: formKey(), lot: number, amount: '70', reference: 'RF', on, over })
    expect((await refusedAt(pay('refuse'))).amount).toContain('£8.00 too much')
    await pay('keep')
    const { statement, unplaced, meter } = await books()
    expect(statement.lots[0]).toMatchObject({ state: 'paid', receivedMinor: 6_200, owedMinor: 0 })
    expect(statement).toMatchObject({ receivedMinor: 7_000, unplacedMinor: 800, toRemitMinor: 4_500, varianceMinor: 0 })
    expect(unplaced).toMatchObject([{ payer: 'Ada', lot: number, leftMinor: 800, isOwedBack: false }])
    expect(meter.countedMinor).toBe(4_500)
  })

  it('a second whole payment is no payment of that lot', async () => {
    const { treasurer, number, books } = await sold()
    const pay = () => treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference, on, over: 'keep' })
    await pay()
    await pay()
    const { statement, unplaced } = await books()
    expect(statement.lots[0]?.receivedMinor).toBe(6_200)
    expect(unplaced).toMatchObject([{ payer: 'Ada', leftMinor: 6_200 }])
  })
})

describe('money unallocated', () => {
  async function cameUnknown(amount = '100') {
    const lot = await sold()
    const { entryId } = await lot.treasurer.booking.cameUnknown({ key: formKey(), from: 'Q. Unknown', amount, reference: 'thanks!', on })
    return { ...lot, entryId }
  }

  it('counts towards nothing until it is placed on a lot, and then as its payment', async () => {
    const { treasurer, number, books, entryId } = await cameUnknown()
    expect((await books()).meter.paidMinor).toBe(0)
    await treasurer.booking.place({ key: formKey(), to: 'lot', entryId, lot: number, amount: '62', on })
    const { statement, unplaced, meter } = await books()
    expect(statement.lots[0]?.state).toBe('paid')
    expect(meter.paidMinor).toBe(4_500)
    expect(unplaced).toMatchObject([{ amountMinor: 10_000, leftMinor: 3_800 }])
    expect(statement).toMatchObject({ bankMinor: 10_000, varianceMinor: 0 })
  })

  it('no more is placed than is left, and no more on a lot than it has to pay', async () => {
    const { treasurer, number, entryId } = await cameUnknown('70')
    const place = (amount: string) => treasurer.booking.place({ key: formKey(), to: 'lot', entryId, lot: number, amount, on })
    expect((await refusedAt(place('70.01'))).amount).toContain('Only £70.00')
    expect((await refusedAt(place('62.01'))).amount).toContain('£62.00 to pay')
    await place('62')
    expect((await refusedAt(place('1'))).amount).toContain('£0.00 to pay')
  })

  it('is kept as a gift only with the payer’s word', async () => {
    const { treasurer, books, entryId } = await cameUnknown('30')
    const keep = (word: string) => treasurer.booking.place({ key: formKey(), to: 'gift', entryId, amount: '30', word, on })
    expect((await refusedAt(keep(' '))).word).toContain('what the payer said')
    await keep('“Keep it for the school”, by email')
    expect(await books()).toMatchObject({
      meter: { giftMinor: 3_000 },
      unplaced: [],
      statement: { receivedMinor: 3_000, varianceMinor: 0 },
    })
    expect((await refusedAt(keep('again'))).entryId).toContain('has already been allocated')
  })

  it('is given back, never more than came', async () => {
    const { treasurer, books, entryId } = await cameUnknown('30')
    const back = (amount: string) =>
      treasurer.booking.refund({ key: formKey(), of: 'unplaced', entryId, amount, why: 'Not for us.', reference, on })
    expect((await refusedAt(back('30.01'))).amount).toContain('Only £30.00')
    await back('30')
    expect((await books()).statement).toMatchObject({ bankMinor: 0, unplacedMinor: 0, refundedMinor: 3_000, varianceMinor: 0 })
  })

  it('that found a home cannot be taken back from under it', async () => {
    const { treasurer, number, books, entryId } = await cameUnknown('62')
    const placed = await treasurer.booking.place({ key: formKey(), to: 'lot', entryId, lot: number, amount: '62', on })
    const correct = (id: string) => treasurer.booking.correct({ key: formKey(), entryId: id, why: 'It was a mistake.' })
    expect((await refusedAt(correct(entryId))).entryId).toContain('reverse those first')
    await correct(placed.entryId)
    expect((await books()).unplaced).toMatchObject([{ leftMinor: 6_200 }])
    await correct(entryId)
    expect(await books()).toMatchObject({ unplaced: [], statement: { bankMinor: 0, varianceMinor: 0 } })
  })
})

describe('a payment that went back', () => {
  it('leaves the lot to be paid again, and is never larger than the payment', async () => {
    const { treasurer, number, books } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '20', reference, on })
    const back = (amount: string) =>
      treasurer.booking.refund({ key: formKey(), of: 'lot', lot: number, amount, why: 'The card was charged back.', reference, on })
    expect((await refusedAt(back('20.01'))).amount).toContain('Only £20.00 stands as paid')
    await back('20')
    expect((await books()).statement).toMatchObject({ unpaidMinor: 6_200, bankMinor: 0, refundedMinor: 2_000, varianceMinor: 0 })
  })
})

describe('a sale that falls through', () => {
  const reason = 'The buyer cannot be reached.'

  it('unpaid: the lot counts no more, owes nothing, and the variance stays nought', async () => {
    const { treasurer, number, books } = await sold()
    expect(await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: reason })).toMatchObject({ owedBackMinor: 0 })
    const { statement, meter } = await books()
    expect(statement.lots[0]).toMatchObject({ state: 'fell through', fellAtMinor: 5_000, hammerMinor: 0, postageMinor: 0, owedMinor: 0 })
    expect(statement.varianceMinor).toBe(0)
    expect(meter).toMatchObject({ countedMinor: 0, lots: { sold: 0, fellThrough: 1 } })
    expect((await refusedAt(treasurer.booking.pay({ key: formKey(), lot: number, amount: '1', reference, on }))).lot).toContain(
      'fell through',
    )
    expect((await refusedAt(treasurer.booking.fallThrough({ key: formKey(), lot: number, why: reason }))).lot).toContain('fell through')
  })

  it('paid and sent on: says what is owed back, and that the cause has too much', async () => {
    const { treasurer, number, books } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference, on })
    await treasurer.booking.remit({ key: formKey(), amount: '45', reference, on })
    const undone = await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'It broke before it was sent.' })
    expect(undone).toMatchObject({ owedBackMinor: 6_200, sentOnTooMuchMinor: 4_500 })
    const { statement, unplaced } = await books()
    expect(unplaced).toMatchObject([{ isOwedBack: true, payer: 'Ada', lot: number, leftMinor: 6_200 }])
    expect(statement).toMatchObject({ unplacedMinor: 6_200, toRemitMinor: -4_500, varianceMinor: 0 })
    expect((await refusedAt(treasurer.booking.remit({ key: formKey(), amount: '1', reference, on }))).amount).toContain('Only £0.00')
  })

  it('can be sold to another at their price, whose payments are their own', async () => {
    const { treasurer, number, books, bo } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '30', reference, on })
    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: reason })
    const actor = await stage.actor('treasurer')
    const sale = { lot: number, personId: bo.actor.personId, priceMinor: 4_800, postageMinor: 1_200, by: 'underbidder' as const }
    await stage.command((turn) => recordResale(turn, actor, sale))
    const { statement, meter } = await books()
    expect(statement.lots[0]).toMatchObject({ buyer: 'Bo', state: 'won', fellAtMinor: 5_000, hammerMinor: 4_800, owedMinor: 6_000 })
    expect(meter.wonMinor).toBe(4_320)
    expect(statement).toMatchObject({ unplacedMinor: 3_000, varianceMinor: 0 })
    await expect(stage.command((turn) => recordResale(turn, actor, sale))).rejects.toThrow('has to fall through')
    const reversal = (await books()).journal.find(({ kind }) => kind === 'reversal')
    const words = await refusedAt(treasurer.booking.correct({ key: formKey(), entryId: reversal?.id ?? '', why: 'They paid after all.' }))
    expect(words.entryId).toContain('changed later')
  })

  it('is taken back when it was a mistake, and the released payment is placed again', async () => {
    const { treasurer, number, books } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference, on })
    const { entryId } = await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: reason })
    await treasurer.booking.correct({ key: formKey(), entryId, why: 'It was another lot.' })
    const [back] = (await books()).unplaced
    await treasurer.booking.place({ key: formKey(), to: 'lot', entryId: back?.entryId ?? '', lot: number, amount: '62', on })
    expect(await books()).toMatchObject({ unplaced: [], meter: { paidMinor: 4_500 }, statement: { unpaidMinor: 0, varianceMinor: 0 } })
  })

  it('takes what came before with it: a reduction beneath it cannot be taken back', async () => {
    const { treasurer, number } = await sold()
    const reduced = await treasurer.booking.reduce({ key: formKey(), lot: number, amount: '10', why: 'A scratch on the case.' })
    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: reason })
    const words = await refusedAt(treasurer.booking.correct({ key: formKey(), entryId: reduced.entryId, why: 'No scratch.' }))
    expect(words.entryId).toContain('reverse the change first')
  })
})

describe('a price that is less', () => {
  it('is borne by the parts of the price, and what was paid too much is owed back', async () => {
    const { treasurer, number, books } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference, on })
    const why = 'The dial broke on the way.'
    expect((await refusedAt(treasurer.booking.reduce({ key: formKey(), lot: number, amount: '50', why }))).amount).toContain(
      'less than that',
    )
    expect(await treasurer.booking.reduce({ key: formKey(), lot: number, amount: '10', why })).toMatchObject({ owedBackMinor: 1_000 })
    const { statement, meter } = await books()
    expect(statement.lots[0]).toMatchObject({ fellAtMinor: 5_000, hammerMinor: 4_000, causeMinor: 3_600, state: 'paid' })
    expect(meter.paidMinor).toBe(3_600)
    expect(statement.varianceMinor).toBe(0)
  })
})
