import type { Locator, Page } from '@playwright/test'
import { expect, expectAccessible, shoot, stepInto, test } from './journey'

test.describe.configure({ mode: 'serial' })

// The treasurer's day: a payment that is too much, money back, a cost, a fee, a correction, a sale undone; the books agree throughout.

const dialogOf = (page: Page, button: string): Locator =>
  page.getByRole('dialog').filter({ has: page.getByRole('button', { name: button }) })

/** A line of the statement, by its words. */
const amountOf = (page: Page, words: string): Locator => page.locator('dt', { hasText: words }).locator('xpath=following-sibling::dd[1]')

test('the forecast is seen, and a payment that is too much finds its home: a part goes back, a part is kept as a gift', async ({
  watched: page,
  house,
}, info) => {
  await stepInto(page, house, 'Edda Quill')
  await page.goto(`${house.url}/bench/money`)
  await expect(page.getByRole('meter', { name: 'Raised for the cause' })).toBeVisible()
  await expect(page.getByRole('heading', { name: 'How it may end' })).toBeVisible()
  await expect(page.getByRole('img', { name: /expected; with 80 % between/ })).toBeVisible()
  await expect(page.getByText(/matters most/)).toBeVisible()
  await page.getByText('Lot by lot, and the picture as a table').click()
  await expect(page.getByRole('table', { name: /What each lot may bring/ })).toBeVisible()
  await page.getByText('The same as a table').click()
  await expect(page.getByRole('row', { name: /Lot 1 sold/ })).toBeVisible()
  await expect(amountOf(page, 'Variance')).toHaveText('£0.00')
  await expectAccessible(page)
  await shoot(page, 'books', info.project.name)

  // The rest of lot 2, and twelve pounds more: refused with what to do, then kept in sight.
  await page.goto(`${house.url}/bench/money/2`)
  const pay = page.getByRole('form', { name: 'Money came in' })
  const owed = Number(await pay.getByLabel('How much').inputValue())
  await pay.getByLabel('How much').fill((owed + 12).toFixed(2))
  await pay.getByRole('button', { name: 'Mark it paid' }).click()
  await expect(pay.getByText(/this is £12.00 too much/).first()).toBeVisible()
  await expect(pay.getByLabel('How much')).toHaveValue((owed + 12).toFixed(2))
  await pay.getByLabel('Hold the rest as unallocated').check()
  await pay.getByRole('button', { name: 'Mark it paid' }).click()
  await expect(page.getByRole('heading', { name: 'Lot 2 is paid' })).toBeVisible()
  await expect(page.getByText('£12.00 is unallocated')).toBeVisible()

  // Four of the twelve go back, and not a penny more than there is; eight are kept with the payer's word.
  await page.goto(`${house.url}/bench/money/in`)
  const twelve = page.getByRole('listitem').filter({ hasText: '£12.00 more than was owed' })
  await twelve.getByRole('button', { name: 'Refund it…' }).click()
  const back = dialogOf(page, 'It was refunded')
  await back.getByLabel('How much of it').fill('12.01')
  await back.getByLabel('Why').fill('The buyer asked for a part of it.')
  await back.getByRole('button', { name: 'It was refunded' }).click()
  await expect(back.getByText(/Only £12.00 of it is left/).first()).toBeVisible()
  await back.getByLabel('How much of it').fill('4')
  await back.getByRole('button', { name: 'It was refunded' }).click()
  await expect(twelve.getByText('£8.00', { exact: true })).toBeVisible()
  await twelve.getByRole('button', { name: 'Keep it as a gift…' }).click()
  const keep = dialogOf(page, 'Keep it as a gift')
  await keep.getByRole('button', { name: 'Keep it as a gift' }).click()
  await expect(keep.getByText(/Write what the payer said/).first()).toBeVisible()
  await keep.getByLabel('What the payer said, and where').fill('“Keep it for the school”, by email')
  await keep.getByRole('button', { name: 'Keep it as a gift' }).click()
  await expect(twelve).toHaveCount(0)
  await expectAccessible(page)
})

test('costs and fees come out of their part, and a correction shows what it undoes', async ({ watched: page, house }) => {
  await stepInto(page, house, 'Edda Quill')
  // The cost is written twice, and one of them is taken back in the journal.
  await page.goto(`${house.url}/bench/money/out`)
  const cost = page.getByRole('form', { name: 'A cost' })
  for (const times of [1, 2]) {
    await cost.getByLabel('What was bought').fill('Boxes and padding')
    await cost.getByLabel('For', { exact: true }).selectOption('sending')
    await cost.getByLabel('How much').fill('14,20')
    await cost.getByLabel('The postage that buyers paid').check()
    await cost.getByRole('button', { name: 'Record the cost' }).click()
    await expect(page.getByRole('row', { name: /Boxes and padding/ })).toHaveCount(times)
  }
  const fee = page.getByRole('form', { name: 'A fee' })
  await fee.getByLabel('Who deducted it').fill('The bank')
  await fee.getByLabel('How much').fill('-1')
  await fee.getByRole('button', { name: 'Record the fee' }).click()
  await expect(fee.getByText(/above zero/).first()).toBeVisible()
  await fee.getByLabel('How much').fill('1.30')
  await fee.getByRole('button', { name: 'Record the fee' }).click()
  await expect(page.getByRole('row', { name: /Fee of The bank/ })).toBeVisible()
  await expectAccessible(page)

  await page.goto(`${house.url}/bench/money/journal`)
  await page
    .getByRole('row', { name: /Boxes and padding/ })
    .first()
    .getByRole('button', { name: 'Reverse…' })
    .click()
  const take = dialogOf(page, 'Reverse it').filter({ visible: true })
  await take.getByLabel('Why').fill('Written twice.')
  await take.getByRole('button', { name: 'Reverse it' }).click()
  await expect(page.getByRole('link', { name: /Reverses: Cost: Boxes and padding/ })).toBeVisible()
  await expect(page.getByRole('link', { name: 'Reversed by a later entry' })).toBeVisible()
  await expectAccessible(page)
})

test('a paid lot falls through: what is owed back is said before and stands in sight after, and the books agree', async ({
  watched: page,
  house,
}, info) => {
  await stepInto(page, house, 'Edda Quill')
  await page.goto(`${house.url}/bench/money/1`)
  await page.getByRole('button', { name: 'The sale falls through…' }).click()
  const fall = dialogOf(page, 'It fell through')
  await expect(fall.getByText(/is then owed back to Sunniva Dahl/)).toBeVisible()
  await fall.getByLabel('Why').fill('It was dropped before it was sent.')
  await fall.getByRole('button', { name: 'It fell through' }).click()
  await expect(page.getByRole('heading', { name: 'The sale of lot 1 fell through' })).toBeVisible()
  await page.goto(`${house.url}/bench/money`)
  await expect(page.getByRole('link', { name: /is owed back to buyers/ })).toBeVisible()
  await expect(amountOf(page, 'Costs and fees paid out of postage')).toHaveText('£14.20')
  await expect(amountOf(page, 'Refunded')).toHaveText('£4.00')
  await expect(amountOf(page, 'Variance')).toHaveText('£0.00')

  await page.goto(`${house.url}/bench/money/pictures`)
  await expect(page.getByRole('table', { name: /by machine/ }).getByRole('row', { name: /Gifts of money/ })).toBeVisible()
  await expect(page.getByRole('table', { name: /Raised and spent/ })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'books-pictures', info.project.name)
  await page.goto(`${house.url}/raised`)
  await expect(page.getByText('2 sales fell through and no longer count.')).toBeVisible()
  await expectAccessible(page)
})
