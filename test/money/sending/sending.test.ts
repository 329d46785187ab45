import { afterEach, describe, expect, test } from 'vitest'
import { DAY, HOUR } from '#kernel/instant'
import { addressSweep } from '#money/sending/address.service'
import { PHOTO } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

/** Postage to Ireland; at home it is 12.00. */
const DEARER = 1_800
const ADDRESS = { name: 'Ada Quill', street: '2 Quay Lane', place: 'Harbour', postcode: 'HA1 2QL', country: 'GB', telephone: '' }

async function paidLot() {
  stage = openStage()
  const made = await makeSoldLot(stage)
  const { treasurer, number, ada } = made
  await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
  await ada.caller.sending.sayAddress({ lot: number, ...ADDRESS })
  return { ...made, maker: await stage.as('maker'), volunteer: await stage.as('volunteer') }
}

const PARCEL = {
  weightGrams: '3100',
  lengthMm: '400',
  widthMm: '300',
  heightMm: '200',
  cells: 'none',
  wattHours: '',
  mains: 'no',
  goods: '',
  origin: 'GB',
  netGrams: '',
  tariffHint: '',
} as const

async function sentLot() {
  const made = await paidLot()
  const { volunteer, number } = made
  const { items } = await volunteer.sending.page({ lot: number })
  for (const { key, wantsPhotograph } of items) {
    if (wantsPhotograph) await volunteer.sending.photograph({ lot: number, item: key, sha: PHOTO })
    await volunteer.sending.tick({ lot: number, item: key, isPacked: true })
  }
  await volunteer.sending.parcel({ lot: number, ...PARCEL })
  await volunteer.sending.dispatch({ lot: number, carrier: 'Harbour Post', tracking: 'HP 12', trackingUrl: '' })
  return made
}

describe('packing', () => {
  test('nothing is packed before it is paid', async () => {
    stage = openStage()
    const { number } = await makeSoldLot(stage)
    const volunteer = await stage.as('volunteer')
    expect(await refusedAt(volunteer.sending.tick({ lot: number, item: 'unit', isPacked: true }))).toHaveProperty('item')
  })

  test('each tick bears who and when, and is taken off again', async () => {
    const { volunteer, number } = await paidLot()
    await volunteer.sending.tick({ lot: number, item: 'unit', isPacked: true })
    const unit = async () => (await volunteer.sending.page({ lot: number })).items.find(({ key }) => key === 'unit')
    expect(await unit()).toMatchObject({ packedBy: 'volunteer', packedAt: stage.clock.now() })
    await volunteer.sending.tick({ lot: number, item: 'unit', isPacked: false })
    expect(await unit()).toMatchObject({ packedBy: null, packedAt: null })
  })

  test('a parcel is not closed while something lies beside it, and opening it undoes the close', async () => {
    const { volunteer, number } = await paidLot()
    expect((await refusedAt(volunteer.sending.tick({ lot: number, item: 'closed', isPacked: true }))).item).toContain('Disposal leaflet')
    const { items } = await volunteer.sending.page({ lot: number })
    for (const { key } of items) await volunteer.sending.tick({ lot: number, item: key, isPacked: true })
    expect((await volunteer.sending.page({ lot: number })).stage).toBe('packed')
    await volunteer.sending.tick({ lot: number, item: 'card', isPacked: false })
    const open = (await volunteer.sending.page({ lot: number })).items.filter(({ packedAt }) => packedAt === null).map(({ key }) => key)
    expect(open).toEqual(['card', 'closed'])
  })

  test('what keeps it from leaving is said all at once', async () => {
    const { volunteer, number } = await paidLot()
    const { carrier = '' } = await refusedAt(volunteer.sending.dispatch({ lot: number, carrier: 'Post', tracking: '', trackingUrl: '' }))
    for (const words of ['cells', 'mains', 'Weigh', 'Not packed yet', 'No photograph yet']) expect(carrier).toContain(words)
  })

  test('sent, it reaches the last terminal, the buyer is told, and no letter and no fact carries the address', async () => {
    const { number } = await sentLot()
    expect((await stage.visitor().lotPage.page({ lot: number })).card.reached).toBe(6)
    expect(stage.letters().at(-1)).toMatchObject({ subject: expect.stringContaining('is on its way') })
    const all = JSON.stringify([stage.letters(), stage.facts()])
    expect(all).not.toContain('Quay Lane')
  })
})

describe('the address of a buyer', () => {
  test('is asked of the buyer alone and seen by whoever sends; the treasurer reads the rest of the page, the host none of it', async () => {
    const { number, bo, volunteer, treasurer } = await paidLot()
    await expect(bo.caller.sending.sayAddress({ lot: number, ...ADDRESS })).rejects.toThrow('You have not won')
    await expect(bo.caller.sending.mine({ lot: number })).rejects.toThrow('You have not won')
    expect((await volunteer.sending.page({ lot: number })).address).toMatchObject({ street: '2 Quay Lane' })
    const read = await treasurer.sending.page({ lot: number })
    expect(read).toMatchObject({ lot: number, address: null, seesAddress: false })
    expect(JSON.stringify(read)).not.toMatch(/Quay|HA1 2QL|Ada Quill/)
    await expect((await stage.as('host')).sending.page({ lot: number })).rejects.toThrow('This is done by')
    expect(JSON.stringify(await treasurer.sending.list())).not.toContain('Quay')
  })

  test('in another country changes the postage by the terms of the lot, there and back, to the penny', async () => {
    const { number, ada, books } = await paidLot()
    const account = async () => (await books()).statement.lots.find((one) => one.number === number)
    expect((await ada.caller.sending.mine({ lot: number })).postage).toMatchObject({ chargedMinor: 1_200, isByHand: false })
    await ada.caller.sending.sayAddress({ lot: number, ...ADDRESS, country: 'IE' })
    expect(await account()).toMatchObject({ postageMinor: DEARER, owedMinor: DEARER - 1_200, receivedMinor: 6_200 })
    expect((await ada.caller.sending.mine({ lot: number })).postage).toMatchObject({ chargedMinor: DEARER })
    expect(await ada.caller.invoices.page({ lot: number })).toMatchObject({ country: 'Ireland', postageMinor: DEARER })
    // The same country again is no change.
    await ada.caller.sending.sayAddress({ lot: number, ...ADDRESS, country: 'IE', street: '3 Quay Lane' })
    expect(await account()).toMatchObject({ postageMinor: DEARER })
    await ada.caller.sending.sayAddress({ lot: number, ...ADDRESS })
    expect(await account()).toMatchObject({ postageMinor: 1_200, owedMinor: 0 })
  })

  test('is whole only with its postcode where the carriers of the country need one', async () => {
    const { number, ada } = await paidLot()
    const refused = await refusedAt(ada.caller.sending.sayAddress({ lot: number, ...ADDRESS, postcode: '' }))
    expect(refused.postcode).toContain('write the postcode')
    await ada.caller.sending.sayAddress({ lot: number, ...ADDRESS, country: 'IE', postcode: '' })
  })

  test('in a country that the lot is not sent to is refused there, and nothing is changed', async () => {
    const { number, ada, volunteer } = await paidLot()
    const refused = await refusedAt(ada.caller.sending.sayAddress({ lot: number, ...ADDRESS, country: 'JP' }))
    expect(refused.country).toMatch(/is not sent to/)
    expect((await volunteer.sending.page({ lot: number })).address).toMatchObject({ country: 'GB' })
  })

  test('is charged by where it goes, also when the paddle was moved there before', async () => {
    const { number, ada, books } = await paidLot()
    await ada.caller.people.takePaddle({ name: 'Ada', country: 'IE', acceptsRules: true })
    await ada.caller.sending.sayAddress({ lot: number, ...ADDRESS, country: 'IE' })
    expect((await books()).statement.lots.find((one) => one.number === number)).toMatchObject({ postageMinor: DEARER })
  })

  test('leaves a postage that the treasurer has said as it is', async () => {
    const { number, ada, books, treasurer } = await paidLot()
    await treasurer.booking.postage({ key: formKey(), lot: number, amount: '1' })
    await ada.caller.sending.sayAddress({ lot: number, ...ADDRESS, country: 'IE' })
    expect((await books()).statement.lots.find((one) => one.number === number)).toMatchObject({ postageMinor: 100 })
    expect((await ada.caller.sending.mine({ lot: number })).postage).toMatchObject({ isByHand: true })
  })

  test('stays until the term is over and the lot has arrived, and is then deleted', async () => {
    const { number, ada, volunteer } = await sentLot()
    stage.clock.pass(61 * DAY)
    await stage.command(addressSweep.run)
    expect((await volunteer.sending.page({ lot: number })).address).not.toBeNull()
    await ada.caller.sending.arrived({ lot: number })
    await stage.command(addressSweep.run)
    expect((await volunteer.sending.page({ lot: number })).address).toBeNull()
    expect((await ada.caller.sending.mine({ lot: number })).stage).toBe('arrived')
  })
})

describe('a problem that the buyer reports', () => {
  test('opens with its own clock, is answered, and ends with a part refund that balances', async () => {
    const { number, ada, volunteer, treasurer, books } = await sentLot()
    await ada.caller.sending.arrived({ lot: number })
    const { problemId } = await ada.caller.sending.report({ key: formKey(), lot: number, words: 'The dial is cracked.' })
    const first = async () => (await ada.caller.sending.mine({ lot: number })).problems[0]
    expect(await first()).toMatchObject({
      state: 'first answer due',
      clock: '48 h 0 min left for the first answer'.replace('48 h 0 min', '2 days 0 h'),
    })
    stage.clock.pass(49 * HOUR)
    expect(await first()).toMatchObject({ state: 'first answer late' })
    await volunteer.sending.answer({ key: formKey(), problemId, words: 'Please send a picture.' })
    expect(await first()).toMatchObject({ state: 'waiting for the buyer', clock: '' })
    await ada.caller.sending.say({ key: formKey(), problemId, words: 'It broke on the way.' })
    expect(await first()).toMatchObject({ state: 'waiting for us', clock: '2 days 0 h left for the next answer' })
    stage.clock.pass(49 * HOUR)
    expect(await first()).toMatchObject({ state: 'answer late', clock: '1 h 0 min late with the next answer' })
    // A second word of the buyer's leaves the clock where it runs.
    await ada.caller.sending.say({ key: formKey(), problemId, words: 'Here is a picture of it.', photoSha: PHOTO })
    expect(await first()).toMatchObject({ state: 'answer late', notes: [{}, {}, {}, { photoSha: PHOTO }] })
    const end = {
      key: formKey(),
      problemId,
      as: 'refunded' as const,
      words: 'Ten back for the dial.',
      amount: '10',
      isWhole: false,
      reference: 'T-9',
      hasGoneBack: true,
    }
    expect(await refusedAt(volunteer.sending.endProblem({ ...end, key: formKey() }))).toHaveProperty('as')
    await treasurer.sending.endProblem(end)
    expect(await first()).toMatchObject({ state: 'closed', endedAs: 'refunded', refundMinor: 1000 })
    const { statement } = await books()
    expect(statement).toMatchObject({ varianceMinor: 0, refundedMinor: 1000, unplacedMinor: 0, bankMinor: 5200 })
    expect(statement.lots[0]).toMatchObject({ hammerMinor: 4000, owedMinor: 0 })
  })

  test('cannot give back more than was paid, and the whole sale undone leaves all of it owed back', async () => {
    const { number, ada, treasurer, books } = await sentLot()
    const { problemId } = await ada.caller.sending.report({ key: formKey(), lot: number, words: 'It does not power up.' })
    const end = { problemId, as: 'refunded' as const, words: 'All of it goes back.', isWhole: false, reference: '', hasGoneBack: false }
    expect(await refusedAt(treasurer.sending.endProblem({ ...end, key: formKey(), amount: '62.01' }))).toHaveProperty('amount')
    expect(await refusedAt(treasurer.sending.endProblem({ ...end, key: formKey(), amount: '0' }))).toHaveProperty('amount')
    await treasurer.sending.endProblem({ ...end, key: formKey(), amount: '', isWhole: true })
    expect((await books()).statement).toMatchObject({ varianceMinor: 0, unplacedMinor: 6200, hammerMinor: 0 })
  })

  test('of somebody else is nobody’s to see or to answer', async () => {
    const { number, ada, bo } = await sentLot()
    const { problemId } = await ada.caller.sending.report({ key: formKey(), lot: number, words: 'The dial is cracked.' })
    await expect(bo.caller.sending.say({ key: formKey(), problemId, words: 'Mine too!' })).rejects.toThrow('no such problem')
    expect(await refusedAt(ada.caller.sending.report({ key: formKey(), lot: number, words: 'And the case.' }))).toHaveProperty('words')
  })
})
