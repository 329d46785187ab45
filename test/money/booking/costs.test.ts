import { afterEach, describe, expect, it } from 'vitest'
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

describe('costs and fees', () => {
  it('come out of the part that bears them, and the target counts before them', async () => {
    const { treasurer, number, books } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference, on })
    const cost = { about: 'parts' as const, paidFrom: 'bank' as const, reference, on }
    await treasurer.booking.cost({ ...cost, key: formKey(), what: 'Feet and screws', amount: '3', bearer: 'seller' })
    await treasurer.booking.cost({
      ...cost,
      key: formKey(),
      what: 'Postage stamps',
      amount: '11',
      bearer: 'postage',
      about: 'sending',
      lot: number,
    })
    await treasurer.booking.fee({ key: formKey(), to: 'the card house', amount: '1.45', bearer: 'cause', lot: number, reference, on })
    const { statement, meter, costs } = await books()
    expect(statement).toMatchObject({
      costs: { seller: 300, cause: 145, postage: 1_100 },
      toRemitMinor: 4_355,
      bankMinor: 4_655,
      varianceMinor: 0,
    })
    expect(statement.lots[0]).toMatchObject({ receivedMinor: 6_200, postageMinor: 1_200, owedMinor: 0 })
    expect(meter.countedMinor).toBe(4_500)
    expect(costs.map(({ memo, bearer, isFee }) => [memo, bearer, isFee])).toEqual([
      ['Cost: Feet and screws', 'seller', false],
      ['Cost: Postage stamps', 'postage', false],
      ['Fee of the card house', 'cause', true],
    ])
  })

  it('paid from the seller’s own pocket touches no bank and is owed back to the seller', async () => {
    const { treasurer, books } = await sold()
    const [run] = (await books()).runs
    const form = {
      what: 'Cases',
      about: 'parts' as const,
      amount: '20',
      bearer: 'seller' as const,
      paidFrom: 'pocket' as const,
      reference,
      on,
    }
    await treasurer.booking.cost({ ...form, key: formKey(), runId: run?.id ?? '' })
    const { statement, costs, journal } = await books()
    expect(statement).toMatchObject({ bankMinor: 0, costs: { seller: 2_000 }, varianceMinor: 0 })
    expect(costs[0]?.run).toBe(run?.words.split(',')[0])
    expect(journal.at(-1)?.postings).toContainEqual({ account: 'kept-by-seller', amountMinor: -2_000 })
    expect((await refusedAt(treasurer.booking.cost({ ...form, key: formKey(), runId: 'not a batch' }))).runId).toContain('no such batch')
    expect((await refusedAt(treasurer.booking.cost({ ...form, key: formKey(), lot: 99 }))).lot).toContain('no lot 99')
  })

  it('the cause bears no more than has come in for it, and what was sent on stays sent on', async () => {
    const { treasurer, number } = await sold()
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference, on })
    await treasurer.booking.remit({ key: formKey(), amount: '45', reference, on })
    const fee = treasurer.booking.fee({ key: formKey(), to: 'the bank', amount: '0.01', bearer: 'cause', reference, on })
    expect((await refusedAt(fee)).amount).toContain('Only £0.00')
  })

  it('a cost that was taken back is no cost', async () => {
    const { treasurer, books } = await sold()
    const form = {
      what: 'Cases',
      about: 'parts' as const,
      amount: '20',
      bearer: 'seller' as const,
      paidFrom: 'bank' as const,
      reference,
      on,
    }
    const { entryId } = await treasurer.booking.cost({ ...form, key: formKey() })
    await treasurer.booking.correct({ key: formKey(), entryId, why: 'It was twelve.' })
    expect(await books()).toMatchObject({ costs: [], statement: { costs: { seller: 0 }, bankMinor: 0 } })
  })
})

describe('postage that was lowered', () => {
  it('cannot be taken below nought by taking the first postage back', async () => {
    const { treasurer, number, books } = await sold()
    await treasurer.booking.postage({ key: formKey(), lot: number, amount: '5' })
    const entries = (await books()).journal.filter(({ kind }) => kind === 'postage')
    const original = entries.find(({ postings }) => postings.some(({ amountMinor }) => amountMinor === 1_200))
    const taken = treasurer.booking.correct({ key: formKey(), entryId: original?.id ?? '', why: 'It was typed twice.' })
    expect(await refusedAt(taken)).toEqual({ entryId: 'Later entries depend on that one: reverse those first.' })
    expect((await books()).statement.lots[0]).toMatchObject({ postageMinor: 500, owedMinor: 5_500 })
  })
})
