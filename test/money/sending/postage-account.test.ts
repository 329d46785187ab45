import { afterEach, describe, expect, test } from 'vitest'
import { readAccount } from '#end/statement/account.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

/** Ada won lots 1 and 2, Bo lot 3; each is charged 12.00 of postage. */
async function threeSold() {
  stage = openStage()
  const lots = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' }), await makeOpenLot(stage, { tag: 'TERN-05' })]
  const [ada, bo] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Bo')]
  await ada.bid(1, '60')
  await ada.bid(2, '60')
  await bo.bid(3, '60')
  stage.clock.set(Math.max(...lots.map(({ closesAt }) => closesAt)) + 600_000)
  await stage.command(closeDueLots)
  const [maker, treasurer] = [await stage.as('maker'), await stage.as('treasurer')]
  const cost = (lot: number, amount: string, paidFrom: 'bank' | 'pocket' = 'bank') =>
    maker.sending.cost({ key: formKey(), lot, amount, paidFrom, reference: '', on: '' })
  return { maker, treasurer, ada, bo, cost }
}

describe('what sending cost', () => {
  test('is entered for a parcel and stands beside what its buyer was charged, one by one and together', async () => {
    const { maker, treasurer, cost } = await threeSold()
    await maker.sending.join({ key: formKey(), lots: [1, 2], postage: '15' })
    await cost(2, '17.40')
    await cost(3, '9.95', 'pocket')
    await treasurer.booking.cost({
      ...{ key: formKey(), what: 'Boxes', about: 'sending', amount: '4', bearer: 'postage', paidFrom: 'bank', reference: '', on: '' },
    })
    expect(await treasurer.sending.postages()).toMatchObject({
      parcels: [
        { lots: [1, 2], chargedMinor: 1_500, costMinor: 1_740 },
        { lots: [3], chargedMinor: 1_200, costMinor: 995 },
      ],
      otherMinor: 400,
      chargedMinor: 2_700,
      costMinor: 3_135,
    })
    const { statement, journal } = (await treasurer.books.all()) ?? {}
    expect(statement).toMatchObject({ postageMinor: 2_700, sendingCostMinor: 3_135, varianceMinor: 0 })
    expect(journal?.filter(({ kind }) => kind === 'cost').map(({ memo }) => memo)).toEqual([
      'Cost: sending lots 1 and 2',
      'Cost: sending lot 3',
      'Cost: Boxes',
    ])
    const account = readAccount(stage.sight())
    expect(account.varianceAt).toEqual([])
    expect(account.parts.find(({ key }) => key === 'sending')?.lines.map(({ what, minor }) => [what, minor])).toEqual([
      ['The parcel of lots 1 and 2', 1_740],
      ['The parcel of lot 3', 995],
      ['For no single parcel, such as boxes', 400],
    ])
  })

  test('is gone again when its entry is reversed, and a line of the bank can say for which lot it was', async () => {
    const { treasurer, cost } = await threeSold()
    const { entryId } = await cost(3, '9.95')
    await treasurer.booking.correct({ key: formKey(), entryId, why: 'It was another parcel.' })
    await treasurer.bank.import({ name: 'march.csv', text: 'Date,Amount,Details\n2027-03-13,-8.20,Counter 4' })
    const [line] = (await treasurer.bank.desk()).open
    await treasurer.bank.place({
      key: formKey(),
      lineId: line?.id ?? '',
      parts: [{ to: 'cost', amount: '8.20', what: 'Parcel', about: 'sending', bearer: 'postage', lot: 1 }],
    })
    const { parcels, costMinor } = (await treasurer.sending.postages()) ?? {}
    expect(parcels?.map((one) => [one.lots, one.costMinor])).toEqual([
      [[1], 820],
      [[2], null],
      [[3], null],
    ])
    expect(costMinor).toBe(820)
  })

  test('is refused for a lot that is not sold, and for no amount', async () => {
    const { cost } = await threeSold()
    expect(await refusedAt(cost(9, '4'))).toHaveProperty('lot')
    expect(await refusedAt(cost(1, '0'))).toHaveProperty('amount')
    expect(await refusedAt(cost(1, 'nine'))).toHaveProperty('amount')
  })
})

describe('a buyer’s wish', () => {
  test('of one parcel is seen where it is sent, until it is decided', async () => {
    const { maker, ada, bo } = await threeSold()
    const line = async (lot: number) => (await maker.sending.list()).find((one) => one.lot === lot)
    expect(await ada.caller.sending.mine({ lot: 1 })).toMatchObject({ couldJoin: [2], wish: null })
    expect(await bo.caller.sending.mine({ lot: 3 })).toMatchObject({ couldJoin: [], wish: null })
    await ada.caller.sending.wish({ lot: 1, wants: 'one' })
    expect(await ada.caller.sending.mine({ lot: 2 })).toMatchObject({ wish: 'one' })
    expect(await maker.sending.page({ lot: 2 })).toMatchObject({ wish: { wants: 'one', at: stage.clock.now() } })
    expect([(await line(1))?.wishedWith, (await line(3))?.wishedWith]).toEqual([[2], []])
    await maker.sending.join({ key: formKey(), lots: [1, 2], postage: '' })
    expect((await line(1))?.wishedWith).toEqual([])
    await ada.caller.sending.wish({ lot: 1, wants: 'several' })
    expect(await maker.sending.page({ lot: 1 })).toMatchObject({ wish: { wants: 'several' }, beside: [{ lot: 2, postageMinor: 1_200 }] })
  })

  test('is a buyer’s alone', async () => {
    const { bo } = await threeSold()
    await expect(bo.caller.sending.wish({ lot: 1, wants: 'one' })).rejects.toThrow('You have not won lot 1.')
  })
})
