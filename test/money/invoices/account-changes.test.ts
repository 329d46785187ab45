import { afterEach, expect, test } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { STAFF_ROLES } from '#kernel/role'
import { closeDueLots } from '#sale/closings/close-due.service'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { makeSoldLot } from '#test/make/sold'
import { openPdf, pagesOf } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const OLD = 'GB82WEST12345698765432'
const NEW = 'DE89370400440532013000'
const termsWith = (iban: string, accountName = 'Long Bench workshop') => ({
  ...{ accountName, iban, bic: '', dueDays: '7', reminderDays: '2, 4, 7', remindersAlone: false, offerAfterDays: '10', offerOpenDays: '3' },
})

/** A lot that Ada won while buyers paid into the old account. */
async function soldWithAccount() {
  stage = openStage()
  const treasurer = await stage.as('treasurer', 'Tamsin')
  await treasurer.invoices.saveTerms(termsWith(OLD))
  return { ...(await makeSoldLot(stage)), treasurer }
}

test('an invoice that is out keeps the account that it was issued with, on its page and on paper', async () => {
  const { number, ada, treasurer } = await soldWithAccount()
  await treasurer.invoices.saveTerms(termsWith(NEW, 'Another workshop'))
  await treasurer.invoices.saveTerms(termsWith('NO9386011117947'))
  expect((await ada.caller.invoices.page({ lot: number })).account).toEqual({ name: 'Long Bench workshop', iban: OLD, bic: '' })
  const door = await openStageDoor(stage)
  const cookie = await door.sessionOf(ada.actor.personId)
  const paper = await fetch(`${door.url}/lots/${number}/invoice.pdf`, { headers: { cookie } })
  const words = (await pagesOf(await openPdf(Buffer.from(await paper.arrayBuffer())))).join(' ')
  door.close()
  expect(words).toContain('GB82 WEST 1234 5698 7654 32')
  expect(words).not.toContain('NO93')
})

test('a lot that is sold after the change is paid into the new account', async () => {
  const { ada, treasurer } = await soldWithAccount()
  await treasurer.invoices.saveTerms(termsWith(NEW))
  const { number } = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 30 * MINUTE })
  await ada.bid(number, '60')
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  expect((await ada.caller.invoices.page({ lot: number })).account?.iban).toBe(NEW)
})

test('an invoice that had no account yet names the first that is set, and keeps that one', async () => {
  stage = openStage()
  const { number, ada, treasurer } = await makeSoldLot(stage)
  const account = async () => (await ada.caller.invoices.page({ lot: number })).account?.iban ?? null
  expect(await account()).toBeNull()
  await treasurer.invoices.saveTerms(termsWith(OLD))
  expect(await account()).toBe(OLD)
  await treasurer.invoices.saveTerms(termsWith(NEW))
  expect(await account()).toBe(OLD)
})

test('all of the staff are told by letter of a changed account, and of nothing else that is saved with it', async () => {
  stage = openStage()
  const { treasurer } = await makeSoldLot(stage)
  for (const role of STAFF_ROLES) await stage.actor(role)
  await makeBidder(stage, 'Cyd')
  const told = () => stage.letters().filter(({ subject }) => subject === 'The account that buyers pay into was changed')
  await treasurer.invoices.saveTerms(termsWith(OLD))
  expect(
    told()
      .map(({ recipient }) => recipient)
      .sort(),
  ).toEqual(STAFF_ROLES.map((role) => `${role}@${role}.example`).sort())
  await treasurer.invoices.saveTerms({ ...termsWith(OLD), dueDays: '5' })
  expect(told()).toHaveLength(4)
  await treasurer.invoices.saveTerms(termsWith(NEW))
  const latest = told().slice(4)
  expect(latest).toHaveLength(4)
  for (const { body } of latest) {
    expect(body).toContain('treasurer (treasurer) changed the account of the campaign')
    expect(body).toContain('Before: Long Bench workshop, GB82…5432')
    expect(body).toContain('Now: Long Bench workshop, DE89…3000')
    for (const iban of [OLD, NEW]) expect(body.replaceAll(' ', '')).not.toContain(iban)
  }
})
