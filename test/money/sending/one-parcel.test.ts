import { afterEach, describe, expect, test } from 'vitest'
import { setPaper } from '#doors/papers/papers'
import { sendingAddresses } from '#money/sending/sending.address'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeBidder, makeOpenLot, PHOTO } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey } from '#test/make/sold'
import { wordsOf } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const ADDRESS = { name: 'Ada Quill', street: '2 Quay Lane', place: 'Harbour', postcode: 'HA1 2QL', country: 'GB', telephone: '' }
const PARCEL = {
  weightGrams: '5200',
  lengthMm: '400',
  widthMm: '300',
  heightMm: '200',
  cells: 'none',
  wattHours: '',
  mains: 'no',
  goods: '',
  origin: 'GB',
  netGrams: '900',
  tariffHint: '8527.99',
} as const

/** Ada won lots 1 and 2, Bo lot 3; each owes 12.00 of postage. */
async function threeSold() {
  stage = openStage()
  const lots = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' }), await makeOpenLot(stage, { tag: 'TERN-05' })]
  const [ada, bo] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Bo')]
  await ada.bid(1, '60')
  await ada.bid(2, '60')
  await bo.bid(3, '60')
  stage.clock.set(Math.max(...lots.map(({ closesAt }) => closesAt)) + 600_000)
  await stage.command(closeDueLots)
  const [maker, treasurer, volunteer] = [await stage.as('maker'), await stage.as('treasurer'), await stage.as('volunteer')]
  const lotInBooks = async (number: number) => (await treasurer.books.all())?.statement.lots.find((one) => one.number === number)
  const pay = async (lot: number) => {
    const owed = (await lotInBooks(lot))?.owedMinor ?? 0
    await treasurer.booking.pay({ key: formKey(), lot, amount: (owed / 100).toFixed(2), reference: '', on: '' })
  }
  return { ada, bo, maker, treasurer, volunteer, lotInBooks, pay }
}

async function packAll(volunteer: Awaited<ReturnType<Stage['as']>>, lot: number, leaveOpen = false) {
  const { items } = await volunteer.sending.page({ lot })
  for (const { key, wantsPhotograph, packedAt } of items) {
    if (key === 'closed' && leaveOpen) continue
    if (wantsPhotograph) await volunteer.sending.photograph({ lot, item: key, sha: PHOTO })
    if (packedAt === null) await volunteer.sending.tick({ lot, item: key, isPacked: true })
  }
}

describe('several lots of one buyer in one parcel', () => {
  test('bear its postage together, to the penny, and what is then overpaid is owed back', async () => {
    const { maker, treasurer, lotInBooks, pay } = await threeSold()
    await pay(1)
    await maker.sending.join({ key: formKey(), lots: [2, 1], postage: '15.01' })
    const [one, two] = [await lotInBooks(1), await lotInBooks(2)]
    expect([one?.postageMinor, two?.postageMinor]).toEqual([751, 750])
    // Lot 1 was paid with 12.00 of postage: the rest waits for its buyer, and lot 2 owes its own part alone.
    expect(one).toMatchObject({ owedMinor: 0 })
    expect(two?.owedMinor).toBe((two?.hammerMinor ?? 0) + 750)
    expect((await treasurer.books.all())?.statement).toMatchObject({ varianceMinor: 0, unplacedMinor: 1200 - 751 })
    expect((await maker.sending.page({ lot: 2 })).postage.paidMinor).toBe(1501)
    await maker.sending.parcelPostage({ key: formKey(), lot: 2, postage: '0' })
    await maker.sending.parcelPostage({ key: formKey(), lot: 2, postage: '9.01' })
    expect([(await lotInBooks(1))?.postageMinor, (await lotInBooks(2))?.postageMinor]).toEqual([451, 450])
  })

  test('are weighed, closed, sent and arrive as one, and nothing leaves while any of it is not ready', async () => {
    const { ada, maker, volunteer, pay } = await threeSold()
    await maker.sending.join({ key: formKey(), lots: [1, 2], postage: '' })
    await ada.caller.sending.sayAddress({ lot: 2, ...ADDRESS })
    await pay(1)
    await packAll(volunteer, 1, true)
    expect((await refusedAt(volunteer.sending.tick({ lot: 1, item: 'closed', isPacked: true }))).item).toContain('lot 2, ')
    await volunteer.sending.parcel({ lot: 1, ...PARCEL })
    const { whyNot } = await volunteer.sending.page({ lot: 1 })
    expect(whyNot).toContain('Lot 2: It is not paid in full.')
    expect(whyNot.join(' ')).not.toContain('Weigh')
    await pay(2)
    await packAll(volunteer, 2)
    await volunteer.sending.parcel({ lot: 2, ...PARCEL })
    await volunteer.sending.photograph({ lot: 1, item: 'closed', sha: PHOTO })
    expect((await volunteer.sending.page({ lot: 1 })).whyNot).toEqual([])
    await volunteer.sending.dispatch({ lot: 1, carrier: 'Harbour Post', tracking: 'HP 12', trackingUrl: '' })
    expect(stage.letters().at(-1)).toMatchObject({ subject: expect.stringContaining('Lots 1 and 2 are on their way') })
    expect((await ada.caller.sending.mine({ lot: 2 })).sentAt).toBe(stage.clock.now())
    await ada.caller.sending.arrived({ lot: 2 })
    const stages = (await maker.sending.list()).map(({ lot, stage: at, beside }) => [lot, at, beside])
    expect(stages.slice(0, 2)).toEqual([
      [1, 'arrived', [2]],
      [2, 'arrived', [1]],
    ])
  })

  test('have one address, one customs draft with a row for each, and all their papers in one print', async () => {
    const { ada, maker } = await threeSold()
    await ada.caller.sending.sayAddress({ lot: 1, ...ADDRESS, country: 'IE' })
    await maker.sending.join({ key: formKey(), lots: [1, 2], postage: '' })
    expect((await maker.sending.page({ lot: 2 })).address).toMatchObject({ street: '2 Quay Lane', country: 'IE' })
    await maker.sending.parcel({ lot: 1, ...PARCEL })
    await maker.sending.parcel({ lot: 2, ...PARCEL, netGrams: '1100', tariffHint: '' })
    const print = async (name: string) => {
      const address = sendingAddresses.find(({ path }) => path.endsWith(`/${name}.pdf`))
      const body = address?.answer(stage.sight(), { lot: '2' }, new URLSearchParams())?.body
      if (typeof body !== 'object' || !('print' in body)) throw new Error('it is no print')
      return wordsOf(await setPaper(body.print))
    }
    const customs = await print('customs')
    for (const phrase of ['TERN-03', 'TERN-04', '900 g', '1.1 kg', '5.2 kg', '852799', 'none yet']) expect(customs).toContain(phrase)
    const all = await print('papers')
    for (const phrase of [
      'Packing list',
      'Customs draft',
      'Cautions',
      'Made from gifts',
      'At the end of its life',
      'How to repeat the checks',
    ])
      expect(all).toContain(phrase)
    // Seven short papers on fewer sheets than papers: two lists, one draft, two sheets of checks, and the short ones between.
    const pages = Number(/page 1 of (\d+)/.exec(all)?.[1])
    expect(pages).toBeLessThan(12)
  })

  test('are refused where buyers or addresses differ, where one has left, and for who keeps no books', async () => {
    const { ada, maker, volunteer } = await threeSold()
    expect((await refusedAt(maker.sending.join({ key: formKey(), lots: [1, 3], postage: '' }))).lots).toContain('different buyers')
    expect(await refusedAt(maker.sending.join({ key: formKey(), lots: [1, 2], postage: 'a lot' }))).toHaveProperty('postage')
    expect((await maker.sending.page({ lot: 1 })).beside).toEqual([])
    await expect(volunteer.sending.join({ key: formKey(), lots: [1, 2], postage: '' })).rejects.toThrow('This is done by')
    await ada.caller.sending.sayAddress({ lot: 1, ...ADDRESS })
    await ada.caller.sending.sayAddress({ lot: 2, ...ADDRESS, street: '9 Hill Road' })
    expect((await refusedAt(maker.sending.join({ key: formKey(), lots: [1, 2], postage: '' }))).lots).toContain('different addresses')
    await ada.caller.sending.sayAddress({ lot: 2, ...ADDRESS })
    await maker.sending.join({ key: formKey(), lots: [1, 2], postage: '' })
    expect((await refusedAt(maker.sending.join({ key: formKey(), lots: [1, 2], postage: '' }))).lots).toContain('Take that apart first')
    await maker.sending.takeApart({ lot: 1 })
    expect(await refusedAt(maker.sending.takeApart({ lot: 1 }))).toHaveProperty('lot')
  })

  test('go on as they are when the sale of one of them falls through', async () => {
    const { maker, treasurer, volunteer } = await threeSold()
    await maker.sending.join({ key: formKey(), lots: [1, 2], postage: '' })
    await treasurer.booking.fallThrough({ key: formKey(), lot: 1, why: 'never paid' })
    expect((await volunteer.sending.page({ lot: 2 })).beside).toEqual([])
    await expect(volunteer.sending.page({ lot: 1 })).rejects.toThrow('no sale that stands')
  })
})
