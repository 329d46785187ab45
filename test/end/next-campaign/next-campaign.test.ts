import { afterEach, expect, test } from 'vitest'
import { readTotals } from '#end/packs/totals.service'
import { DAY, MINUTE } from '#kernel/instant'
import { readBooks } from '#money/books/books.service'
import { reviewReminder } from '#money/invoices/reminders.service'
import type { CampaignIn } from '#people/campaign/campaign.contract'
import { inCampaign } from '#people/campaign/which.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { readLadderFor } from '#sale/lots/ladder.service'
import { campaignForm } from '#test/make/campaign'
import { makeOpenLot, makePreparedLot } from '#test/make/lot'
import { makeDonor, makePart } from '#test/make/shelf'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const next = (change: Partial<CampaignIn> = {}, slug = 'spring-2027', ends = 1) => ({
  ...campaignForm(stage.clock.now(), { name: 'Second lights', causeName: 'The Night Ferry Fund', ...change }),
  slug,
  ends,
})

test('the next campaign begins with nothing raised, and the one before stays as it was', async () => {
  stage = openStage()
  const { treasurer, number, books, ada } = await makeSoldLot(stage)
  const before = await books()
  const maker = await stage.as('maker')
  expect(await maker.nextCampaign.begin(next())).toEqual({ slug: 'spring-2027' })
  const present = await books()
  expect(present.meter).toMatchObject({ countedMinor: 0, causeName: 'The Night Ferry Fund' })
  expect(present.journal).toEqual([])
  const earlier = readBooks(inCampaign(stage.sight(), 1), await stage.actor('treasurer'))
  expect(earlier.meter).toEqual(before.meter)
  expect(earlier.journal).toEqual(before.journal)
  // What is owed from it is owed still: its buyer sees it and pays, and the money is of that campaign.
  expect((await ada.caller.invoices.basket()).lots).toMatchObject([{ lot: number, owedMinor: 6200 }])
  expect(await ada.caller.invoices.page({ lot: number })).toMatchObject({ cause: before.meter.causeName, owedMinor: 6200 })
  await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
  expect((await books()).journal).toEqual([])
  expect(readBooks(inCampaign(stage.sight(), 1), await stage.actor('treasurer')).meter).toMatchObject({ paidMinor: 4500 })
})

test('numbers, serials and tags go on, and what was printed for a lot answers for its campaign', async () => {
  stage = openStage()
  await makeSoldLot(stage)
  const maker = await stage.as('maker')
  await maker.nextCampaign.begin(next())
  const { number } = await makePreparedLot(stage, { tag: 'TERN-09' })
  expect(number).toBe(2)
  const visitor = stage.visitor()
  expect(await visitor.lotPage.page({ lot: 1 })).toMatchObject({
    card: { number: 1 },
    cause: { name: 'Ferry Lane Repair School' },
    earlier: { slug: 'spring-2027' },
  })
  expect(await visitor.lotPage.page({ lot: 1 }).then(({ closings }) => closings.map(({ number: one }) => one))).toEqual([1])
  expect((await visitor.nextCampaign.earlier({ campaign: 'spring-2027' }))?.name).not.toBe('Second lights')
  expect(await visitor.proceeds.meter()).toMatchObject({ countedMinor: 0 })
  await expect(visitor.nextCampaign.earlier({ campaign: 'never' })).rejects.toThrow('There was no such campaign here.')
})

test('a lot that was never open goes along as a draft; a machine that nobody bought can be in a lot of the next', async () => {
  stage = openStage()
  const { number, closesAt } = await makeOpenLot(stage, { tag: 'TERN-03' })
  const waiting = await makePreparedLot(stage, { tag: 'TERN-04', closesIn: 90 * MINUTE })
  stage.clock.set(closesAt + MINUTE)
  await stage.command(closeDueLots)
  const maker = await stage.as('maker')
  const view = await maker.nextCampaign.view()
  expect(view).toMatchObject({ inTheWay: [], drafts: [{ number: waiting.number }], machines: ['TERN-03'] })
  await maker.nextCampaign.begin(next())
  expect((await maker.lots.all()).map(({ number, state, closesAt }) => [number, state, closesAt])).toEqual([
    [waiting.number, 'draft', null],
  ])
  expect(await maker.lots.start({ unit: 'TERN-03' })).toEqual({ number: 3 })
  expect((await maker.lots.all()).map(({ number }) => number)).toEqual([2, 3])
  await expect(maker.lots.start({ unit: 'TERN-04' })).rejects.toThrow('TERN-04 is lot 2 already.')
  expect(number).toBe(1)
})

test('it does not begin while a lot is open, under a name that is taken, or in another currency', async () => {
  stage = openStage()
  const { closesAt } = await makeOpenLot(stage)
  const maker = await stage.as('maker')
  await expect(maker.nextCampaign.begin(next())).rejects.toThrow('Lot 1 is still open.')
  stage.clock.set(closesAt + MINUTE)
  await stage.command(closeDueLots)
  await expect(maker.nextCampaign.begin(next({ currency: 'EUR' }))).rejects.toThrow('the books of all campaigns of a house are kept in one')
  await maker.nextCampaign.begin(next())
  await expect(maker.nextCampaign.begin(next())).rejects.toThrow('The next campaign has begun already: Second lights.')
  await expect(maker.nextCampaign.begin(next({}, 'spring-2027', 2))).rejects.toThrow('An earlier campaign is called that already.')
  await maker.nextCampaign.begin(next({}, 'autumn-2027', 2))
  expect((await maker.nextCampaign.lines()).map(({ slug }) => slug)).toEqual(['', 'autumn-2027', 'spring-2027'])
})

test('who bid in an earlier campaign bids in the next once they have accepted its rules', async () => {
  stage = openStage()
  const { ada } = await makeSoldLot(stage)
  const maker = await stage.as('maker')
  stage.clock.pass(MINUTE)
  await maker.nextCampaign.begin(next())
  stage.clock.pass(MINUTE)
  const { number } = await makeOpenLot(stage, { tag: 'TERN-08' })
  await expect(ada.bid(number, '60')).rejects.toThrow('Take a paddle first')
  await ada.caller.people.takePaddle({ name: 'Ada', country: 'GB', acceptsRules: true })
  expect(await ada.bid(number, '60')).toMatchObject({ leads: true })
})

test('terms, postage and the ladder begin as they were, and a change of them leaves the earlier ones alone', async () => {
  stage = openStage()
  await makeSoldLot(stage)
  const maker = await stage.as('maker')
  await maker.lots.saveLadder({ lot: null, rows: [{ from: '0', step: '7' }] })
  await maker.nextCampaign.begin(next())
  expect((await maker.lots.ladder({ lot: null })).ladder).toEqual([{ fromMinor: 0, stepMinor: 700 }])
  await maker.lots.saveLadder({ lot: null, rows: [{ from: '0', step: '3' }] })
  expect(readLadderFor(inCampaign(stage.sight(), 1), null).ladder).toEqual([{ fromMinor: 0, stepMinor: 700 }])
})

test('the staff go to work in an earlier campaign and come back', async () => {
  stage = openStage()
  const { number } = await makeSoldLot(stage)
  await (await stage.as('maker')).nextCampaign.begin(next())
  const treasurer = await stage.as('treasurer')
  await treasurer.nextCampaign.workIn({ slug: 'spring-2027' })
  expect((await treasurer.books.all())?.statement.lots).toMatchObject([{ number }])
  expect((await treasurer.nextCampaign.lines()).find(({ isHere }) => isHere)?.slug).toBe('spring-2027')
  await treasurer.nextCampaign.workIn({ slug: '' })
  expect((await treasurer.books.all())?.statement.lots).toEqual([])
  await expect(treasurer.nextCampaign.workIn({ slug: 'never' })).rejects.toThrow('There was no such campaign here.')
})

test('the totals of a pack name every campaign, so that none is lost when it is read back', async () => {
  stage = openStage()
  await makeSoldLot(stage)
  // A certificate of these makers was signed by nobody, and is no figure of a campaign.
  stage.db.$client.exec('DROP TRIGGER certificate_is_never_deleted; DELETE FROM certificate')
  const before = readTotals(stage.sight())
  await (await stage.as('maker')).nextCampaign.begin(next())
  const after = readTotals(stage.sight())
  for (const [name, figure] of Object.entries(before)) expect([name, after[`spring-2027: ${name}`]]).toEqual([name, figure])
  expect(after['proceeds countedMinor']).toBe(0)
})

test('a donor of an earlier campaign only gets no last letter of the next; what is left to do in the earlier one is told', async () => {
  stage = openStage()
  await makeSoldLot(stage)
  const donor = await makeDonor(stage)
  const part = await makePart(stage)
  await (await stage.as('volunteer')).parcels.log({
    key: formKey().replaceAll(/[^a-z0-9]/g, '-'),
    donorId: donor.id,
    lines: [{ partId: part.id, quantity: 1 }],
  })
  const maker = await stage.as('maker')
  expect((await maker.lastLetters.all())?.toSend.map(({ name }) => name)).toEqual(['Ines Abreu'])
  stage.clock.pass(MINUTE)
  await maker.nextCampaign.begin(next())
  expect((await maker.lastLetters.all())?.toSend).toEqual([])
  expect(await maker.nextCampaign.lines()).toMatchObject([{ unpaid: 0 }, { slug: 'spring-2027', unpaid: 1, notArrived: 1 }])
})

test('a lot of an earlier campaign is copied into the present one, and nothing new begins in one that is over', async () => {
  stage = openStage()
  const { closesAt } = await makeOpenLot(stage, { tag: 'TERN-03' })
  stage.clock.set(closesAt + MINUTE)
  await stage.command(closeDueLots)
  const maker = await stage.as('maker')
  await maker.nextCampaign.begin(next())
  await maker.nextCampaign.workIn({ slug: 'spring-2027' })
  await expect(maker.lots.start({ unit: 'TERN-03' })).rejects.toThrow('Long Bench Day is over. Go back to the present campaign')
  await maker.nextCampaign.workIn({ slug: '' })
  expect(await maker.lots.copy({ unit: 'TERN-03', from: 1 })).toEqual({ number: 2 })
  expect(await maker.lots.all()).toMatchObject([{ number: 2, title: 'Saltmarsh shortwave receiver', state: 'draft' }])
})

test('a reminder to pay that waits in the outbox when the next begins still asks for what is owed', async () => {
  stage = openStage()
  const { treasurer, number } = await makeSoldLot(stage)
  stage.clock.pass(30 * DAY)
  const proposed = await treasurer.invoices.propose({ lot: number })
  await treasurer.invoices.remind({
    key: formKey(),
    lot: number,
    step: proposed?.step ?? 1,
    subject: 'Still to pay',
    body: 'Please pay what is owed for your lot.',
  })
  const waiting = stage.db.$client.prepare('SELECT letter_id FROM payment_reminder WHERE letter_id IS NOT NULL').pluck().get() as string
  expect(await stage.command((turn) => reviewReminder(turn, waiting))).toBe('as it is')
  await (await stage.as('maker')).nextCampaign.begin(next())
  expect(await stage.command((turn) => reviewReminder(turn, waiting))).toBe('as it is')
})
