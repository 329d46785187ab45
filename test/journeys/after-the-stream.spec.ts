import type { Page } from '@playwright/test'
import { DAY, HOUR, MINUTE } from '#kernel/instant'
import { expect, expectAccessible, openBidding, type RunningHouse, shoot, stepInto, test } from './journey'

// After the stream three machines are left: one goes at a fixed price, one at a second closing a month later, one is kept.

const MAKER = 'Wilma Harrow'
/** The one whose sale fell through, and two on which nobody bid. */
const [FIXED, AGAIN, KEPT] = [7, 10, 11]

const figures = async (page: Page, house: RunningHouse) => {
  const { bidMinor, wonMinor, paidMinor, remittedMinor, lots } = await (await page.request.get(`${house.url}/proceeds.json`)).json()
  return { counted: wonMinor + paidMinor + remittedMinor, bidMinor, lots }
}

const left = (page: Page, lot: number) =>
  page
    .getByRole('region', { name: 'What is left' })
    .getByRole('listitem')
    .filter({ has: page.getByRole('link', { name: `Lot ${lot}`, exact: true }) })

test('what is left goes at a fixed price, on another stream day, or is kept, and the figures are right in the end', async ({
  watched: maker,
  another,
  house,
}, info) => {
  test.setTimeout(240_000)
  await stepInto(maker, house, MAKER)
  await house.pass(20 * HOUR)
  const atFirst = await figures(maker, house)

  // One is kept.
  await maker.goto(`${house.url}/bench/close-out`)
  await left(maker, KEPT).getByRole('button', { name: 'We keep it' }).click()
  await expect(left(maker, KEPT)).toContainText('was not sold and stays with its maker')

  // One can be had at a fixed price: two say yes at once.
  const buyers = [await another(), await another()]
  for (const [index, name] of ['Marit Oquendo', 'Sunniva Dahl'].entries()) {
    const buyer = buyers[index] as Page
    await stepInto(buyer, house, name)
    await buyer.goto(`${house.url}/lots/${FIXED}`)
    await buyer.getByRole('button', { name: 'I’ll take it…' }).click()
    await expect(buyer.getByRole('button', { name: 'Yes, I’ll take it' })).toBeVisible()
  }
  await Promise.all(buyers.map((buyer) => buyer.getByRole('button', { name: 'Yes, I’ll take it' }).click()))
  const said = /It is yours|Somebody else was first/
  await Promise.all(buyers.map((buyer) => expect(buyer.getByText(said).first()).toBeVisible()))
  const answers = await Promise.all(buyers.map(async (buyer) => said.exec((await buyer.getByRole('main').textContent()) ?? '')?.[0]))
  expect([...answers].sort()).toEqual(['It is yours', 'Somebody else was first'])
  const afterPrice = await figures(maker, house)
  expect(afterPrice.counted - atFirst.counted).toBe(2_400)

  // One is sold a month later: a stream day is added, and a lot of the same machine is put into it.
  const on = new Date((await house.now()) + 30 * DAY).toISOString().slice(0, 10)
  await maker.goto(`${house.url}/bench/campaign`)
  const add = maker.getByRole('form', { name: 'Add a stream day' })
  await add.getByLabel(/^It begins/).fill(`${on}T18:00`)
  await add.getByLabel('It ends').fill(`${on}T22:00`)
  await add.getByRole('button', { name: 'Add this day' }).click()
  const days = maker.getByRole('region', { name: 'Stream days' })
  await expect(days.getByRole('link', { name: /18:00 to 22:00/ })).toBeVisible()
  await expectAccessible(maker)
  await shoot(maker, 'stream-days', info.project.name)
  await maker.goto(`${house.url}/bench/close-out`)
  await left(maker, AGAIN).getByRole('button', { name: 'Sell it at another closing…' }).click()
  await maker
    .getByRole('dialog')
    .getByLabel(/^Time in/)
    .fill('19:00')
  await expectAccessible(maker)
  await shoot(maker, 'another-closing', info.project.name, false)
  await maker.getByRole('dialog').getByRole('button', { name: 'Make the lot' }).click()
  await maker.waitForURL(/\/bench\/lots\/\d+$/)
  const anew = Number(maker.url().split('/').at(-1))
  await maker.goto(`${house.url}/bench/campaign`)
  await expect(days.getByText(`in it, so it cannot be taken away`)).toBeVisible()

  // The day has a page of its own, where it is announced; the first stays as it was.
  await days.getByRole('link', { name: /18:00 to 22:00/ }).click()
  await expect(maker.getByRole('heading', { level: 1 })).toContainText('one closing')
  await maker.getByRole('button', { name: /^Announce/ }).click()
  await maker
    .getByRole('dialog')
    .getByRole('button', { name: /^Announce/ })
    .click()
  await expect(maker.getByText(/not announced yet/)).toHaveCount(0)
  await expectAccessible(maker)
  await shoot(maker, 'the-second-day', info.project.name)
  await maker.goto(`${house.url}/bench/lots/${anew}`)
  await maker.getByRole('button', { name: 'Open it for bidding…' }).click()
  await maker.getByRole('dialog').getByRole('button', { name: 'Open the lot' }).click()
  await expect(maker.getByRole('button', { name: 'Open it for bidding…' })).toHaveCount(0)

  // Everybody sees when it is, and bids.
  const bidder = buyers[0] as Page
  await bidder.goto(house.url)
  await expect(bidder.getByRole('main')).toContainText(/The next stream day is .*18:00.* with one closing announced/)
  await expectAccessible(bidder)
  await shoot(bidder, 'after-the-stream', info.project.name)
  await bidder.goto(`${house.url}/programme`)
  await expect(bidder.getByRole('link', { name: `Lot ${anew}`, exact: true })).toBeVisible()
  await house.pass(Date.parse(`${on}T18:30:00Z`) - (await house.now()) - 2 * MINUTE)
  await bidder.goto(`${house.url}/lots/${anew}`)
  await openBidding(bidder)
  const form = bidder.getByRole('form', { name: 'Bid' })
  await form.getByRole('radio', { name: 'Another' }).check()
  await form.getByLabel('Another amount').fill('60')
  await form.getByRole('button', { name: /^Bid/ }).click()
  const [sure, taken] = [form.getByRole('button', { name: /^Yes, bid/ }), bidder.getByText(/holds your bid/).first()]
  await expect(sure.or(taken).first()).toBeVisible()
  if (await sure.isVisible()) await sure.click()
  await expect(taken).toBeVisible()
  await house.pass(2 * HOUR)

  // In the end each counts once, as what it is.
  await expect.poll(async () => (await figures(maker, house)).lots.sold).toBe(afterPrice.lots.sold + 1)
  const atLast = await figures(maker, house)
  const { hammerMinor } = (await (await maker.request.get(`${house.url}/lots.json`)).json()).lots.find(
    ({ number }: { number: number }) => number === anew,
  )
  expect(hammerMinor).toBeGreaterThan(0)
  expect(atLast.counted - afterPrice.counted).toBe(hammerMinor)
  expect(atLast.lots.sold + atLast.lots.unsold).toBe(afterPrice.lots.sold + afterPrice.lots.unsold + 1)
  await maker.goto(`${house.url}/bench/close-out/statement`)
  await expect(maker.getByText('Every entry balances, every lot agrees')).toBeVisible()
  await maker.goto(`${house.url}/raised`)
  await expect(maker.getByRole('img', { name: /./ }).first()).toBeVisible()
  await expectAccessible(maker)
  await shoot(maker, 'two-days-raised', info.project.name)
})
