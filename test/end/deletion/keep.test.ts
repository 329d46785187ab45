import { eq } from 'drizzle-orm'
import { afterEach, expect, test } from 'vitest'
import { donor, letter, person } from '#db/schema/index'
import { keepSweep } from '#end/deletion/keep.service'
import { civilOf } from '#kernel/civil'
import { DAY, MINUTE } from '#kernel/instant'
import { campaignForm } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { makeDonor } from '#test/make/shelf'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

/** A campaign with a buyer who owes, a bidder who bought nothing and a donor; then the next has begun. */
async function secondYear() {
  stage = openStage()
  const sold = await makeSoldLot(stage)
  const maker = await stage.as('maker')
  const { id: donorId } = await makeDonor(stage, 'Ines Abreu', { contact: 'ines@gifts.example' })
  stage.clock.pass(MINUTE)
  await maker.nextCampaign.begin({ ...campaignForm(stage.clock.now(), { name: 'Second lights' }), slug: 'spring-2027', ends: 1 })
  stage.clock.pass(MINUTE)
  return { ...sold, maker, donorId }
}

const day = (days: number) => civilOf(stage.clock.now() + days * DAY, 'Europe/London').slice(0, 10)

/** The key in the newest letter to somebody. */
const keyTo = (mail: string): string => {
  const bodies = stage.db.select().from(letter).where(eq(letter.recipient, mail)).all()
  return /\/keep#([\w-]{43})/.exec(bodies.findLast(({ body }) => body.includes('/keep#'))?.body ?? '')?.[1] ?? ''
}
const mailOf = (personId: string) => stage.db.select().from(person).where(eq(person.id, personId)).get()?.email ?? ''
const contactOf = (donorId: string) => stage.db.select().from(donor).where(eq(donor.id, donorId)).get()?.contact

test('nobody is asked unless the maker sends it; each is asked once', async () => {
  const { maker, ada, bo } = await secondYear()
  expect(await maker.deletion.keeping()).toMatchObject({ donors: 1, bidders: 2, asked: 0 })
  expect(keyTo(ada.actor.email)).toBe('')
  await expect(maker.deletion.askToKeep({ answerBy: day(3) })).rejects.toThrow('Give them at least two weeks.')
  await expect(maker.deletion.askToKeep({ answerBy: day(300) })).rejects.toThrow('more than four months')
  expect(await maker.deletion.askToKeep({ answerBy: day(21) })).toEqual({ asked: 3 })
  await expect(maker.deletion.askToKeep({ answerBy: day(21) })).rejects.toThrow('Everybody who can be asked has been asked.')
  expect(keyTo(bo.actor.email)).toHaveLength(43)
})

test('yes keeps, no forgets at once, and silence forgets on the day that the letter named', async () => {
  const { maker, bo, donorId } = await secondYear()
  const cy = await makeBidder(stage, 'Cy')
  // Cy has accepted the rules of the present campaign, and is not asked.
  expect(await maker.deletion.keeping()).toMatchObject({ bidders: 2 })
  await maker.deletion.askToKeep({ answerBy: day(21) })
  const visitor = stage.visitor()
  const token = keyTo('ines@gifts.example')
  expect(await visitor.deletion.openKeep({ token })).toMatchObject({ name: 'Ines Abreu', campaign: 'Second lights', answer: null })
  expect(await visitor.deletion.answerKeep({ token, keep: true })).toEqual({ is: 'kept' })
  const bos = keyTo(bo.actor.email)
  expect(await visitor.deletion.answerKeep({ token: bos, keep: false })).toEqual({ is: 'forgotten' })
  expect(mailOf(bo.actor.personId)).toMatch(/@forgotten\.invalid$/)
  await expect(visitor.deletion.openKeep({ token: bos })).rejects.toThrow('we keep nothing about you')
  await expect(visitor.deletion.openKeep({ token: 'a'.repeat(43) })).rejects.toThrow('no longer opens anything')
  stage.clock.pass(22 * DAY)
  await stage.command(keepSweep.run)
  expect(contactOf(donorId)).toBe('ines@gifts.example')
  expect(mailOf(cy.actor.personId)).toBe(cy.actor.email)
})

test('whoever still owes is not forgotten before it is settled; what became of their purchase stays', async () => {
  const { maker, ada, number, treasurer } = await secondYear()
  await maker.deletion.askToKeep({ answerBy: day(21) })
  expect(await stage.visitor().deletion.answerKeep({ token: keyTo(ada.actor.email), keep: false })).toEqual({ is: 'forgotten later' })
  expect(mailOf(ada.actor.personId)).toBe(ada.actor.email)
  expect((await ada.caller.invoices.basket()).lots).toMatchObject([{ lot: number }])
  await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference: '', on: '' })
})

test('nothing of whoever was forgotten is found in any table', async () => {
  const { maker, bo } = await secondYear()
  await maker.deletion.askToKeep({ answerBy: day(21) })
  const mail = bo.actor.email
  stage.clock.pass(22 * DAY)
  expect(keepSweep.nextAt(stage.sight())).toBeLessThanOrEqual(stage.clock.now())
  await stage.command(keepSweep.run)
  expect(keepSweep.nextAt(stage.sight())).toBeNull()
  const handle = stage.db.$client
  const tables = handle
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[]
  const found = tables.filter((table) => JSON.stringify(handle.prepare(`SELECT * FROM "${table}"`).all()).includes(mail))
  expect(found).toEqual([])
})

test('the deletion of an earlier campaign spares who takes part in the present one, and what belongs to it', async () => {
  const { maker, ada, bo, donorId } = await secondYear()
  const { number } = await makeOpenLot(stage, { tag: 'TERN-08' })
  await ada.caller.people.takePaddle({ name: 'Ada', country: 'GB', acceptsRules: true })
  await ada.bid(number, '60')
  await maker.nextCampaign.workIn({ slug: 'spring-2027' })
  await maker.deletion.setTerm({ days: 0 })
  stage.clock.pass(2 * DAY)
  const view = await maker.deletion.contacts()
  expect(view.bidders.map(({ id }) => id)).toEqual([bo.actor.personId])
  expect(view.donors.map(({ id }) => id)).toEqual([donorId])
  await maker.deletion.deleteContacts({ typed: view.campaign, shown: view.shown })
  expect(mailOf(ada.actor.personId)).toBe(ada.actor.email)
  expect(mailOf(bo.actor.personId)).toMatch(/@forgotten\.invalid$/)
  expect(contactOf(donorId)).toBe('')
  const traces = stage.db.$client.prepare('SELECT count(*) FROM bid_trace').pluck().get()
  expect(traces).toBeGreaterThan(0)
})
