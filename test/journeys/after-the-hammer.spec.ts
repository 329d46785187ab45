import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, Page } from '@playwright/test'
import { expect, expectAccessible, type RunningHouse, shoot, stepInto, test, watch } from './journey'
import { ROOT } from './prepare'

// A bank's file read twice, a payment confirmed, the parcel packed on a phone and sent, a problem that ends with a part refund.
test.describe.configure({ mode: 'serial' })

const errors: string[] = []
let pages: Page[] = []

test.afterEach(async () => {
  for (const page of pages) await page.context().close()
  pages = []
  expect(errors.splice(0)).toEqual([])
})

async function as(browser: Browser, house: RunningHouse, info: { project: { use: object } }, name: string): Promise<Page> {
  const { page, errors: told } = await watch(await browser.newContext({ ...(info.project.use as object) }))
  page.on('close', () => errors.push(...told))
  pages.push(page)
  await stepInto(page, house, name)
  return page
}

const LINES = readFileSync(join(ROOT, 'seed', 'bank', 'lines-to-try.csv'))

async function readFile(page: Page): Promise<void> {
  await page.locator('input[type=file]').setInputFiles({ name: 'lines.csv', mimeType: 'text/csv', buffer: LINES })
  await page.getByRole('button', { name: 'Show how it is read' }).click()
  await page.getByLabel(/^Day first/).check()
}

test('the treasurer reads a bank’s file twice and confirms what pays the lot; the rest stays in sight', async ({
  browser,
  house,
}, info) => {
  const page = await as(browser, house, info, 'Edda Quill')
  await page.goto(`${house.url}/bench/money/bank`)
  await readFile(page)
  await page.getByRole('button', { name: 'Keep the 4 new lines' }).click()
  await expect(page.getByRole('heading', { name: '4 lines are waiting' })).toBeVisible()
  await readFile(page)
  await page.getByRole('button', { name: 'Keep the 0 new lines' }).click()
  await expect(page.getByText('0 lines are new, 4 were here already.')).toBeVisible()
  const line = page.getByRole('article', { name: /£138\.00/ })
  await expect(line.getByText(/It names lot 2 and its amount/)).toBeVisible()
  await line.getByRole('button', { name: 'Confirm it' }).click()
  await expect(page.getByRole('heading', { name: '3 lines are waiting' })).toBeVisible()
  const box = page.getByRole('article', { name: /−£6\.40/ })
  await box.getByText('Choose where it goes').click()
  await box.getByLabel('What it is').selectOption('cost')
  await box.getByLabel('What was bought').fill('Padded boxes')
  await box.getByRole('button', { name: 'Book it' }).click()
  await expect(page.getByRole('heading', { name: '2 lines are waiting' })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'bank', info.project.name)
  await page.goto(`${house.url}/bench/money/due`)
  await expect(page.getByRole('heading', { name: 'What falls due' })).toBeVisible()
  await expect(page.getByRole('main')).not.toContainText(/\blot 2\b/i)
})

test('the buyer says where it goes', async ({ browser, house }, info) => {
  const buyer = await as(browser, house, info, 'Anton Reyes')
  await buyer.goto(`${house.url}/me/won/2`)
  await expect(buyer.getByRole('heading', { name: 'Paid in full' })).toBeVisible()
  await buyer.getByLabel('Street and number').fill('Calle Inventada 4')
  await buyer.getByLabel('Postcode').fill('11500')
  await buyer.getByLabel('Town').fill('Puerto')
  await buyer.getByRole('button', { name: 'Send it there' }).click()
  await expect(buyer.getByText(/Calle Inventada 4/).first()).toBeVisible()
  await expectAccessible(buyer)
  await shoot(buyer, 'won', info.project.name)
})

test('the volunteer packs it with photographs, and it leaves the house', async ({ browser, house }, info) => {
  // Each tick and each photograph is a turn of its own: on a busy machine they add up.
  test.slow()
  const page = await as(browser, house, info, 'Tobi Lark')
  await page.goto(`${house.url}/bench/sending/2`)
  await expect(page.getByText('Calle Inventada 4')).toBeVisible()
  await expect(page.getByText('Say whether there are cells in the parcel.')).toBeVisible()
  const picture = readFileSync(join(ROOT, 'public', 'readme', 'bench.png'))
  const items = page.getByRole('region', { name: 'What goes in' }).getByRole('listitem')
  const count = await items.count()
  for (let at = 0; at < count; at += 1) {
    const item = items.nth(at)
    if (await item.getByText(/needs a photograph/).count()) {
      await item.locator('input[type=file]').setInputFiles({ name: 'packed.png', mimeType: 'image/png', buffer: picture })
      await expect(item.getByRole('img')).toBeVisible()
    }
    await item.getByRole('button').first().click()
    await expect(page.getByText(`${at + 1} of ${count} are in.`)).toBeVisible()
  }
  const parcel = page.getByRole('form', { name: 'The parcel' })
  await parcel.getByLabel('Weight, g', { exact: true }).fill('3100')
  await parcel.getByLabel('Lithium metal, such as a coin cell, fitted in the machine').check()
  await parcel.getByLabel('No, from a low voltage or from cells').check()
  await parcel.getByRole('button', { name: 'Save the parcel' }).click()
  await expect(page.getByText(/UN 3091/)).toBeVisible()
  const way = page.getByRole('form', { name: 'On its way' })
  await way.getByLabel('Who carries it').fill('Harbour Post')
  await way.getByLabel('Their number for it').fill('HP 20 41')
  await expectAccessible(page)
  await shoot(page, 'packing', info.project.name)
  await way.getByRole('button', { name: 'It has left the house' }).click()
  await expect(page.getByText('On its way').first()).toBeVisible()
  await expect(page.getByText(/With Harbour Post/)).toBeVisible()
  await page.goto(`${house.url}/lots/2`)
  await expect(page.getByRole('img', { name: /sent/ }).first()).toBeVisible()
})

test('it arrives, a problem opens a case with its own clock, and a part refund closes it to the penny', async ({
  browser,
  house,
}, info) => {
  const buyer = await as(browser, house, info, 'Anton Reyes')
  await buyer.goto(`${house.url}/me/won/2`)
  await buyer.getByRole('button', { name: 'It has arrived' }).click()
  await expect(buyer.getByText(/It has arrived,/)).toBeVisible()
  await buyer.getByLabel('What is wrong').fill('One knob is cracked.')
  await buyer.getByRole('button', { name: 'Report it' }).click()
  await expect(buyer.getByText(/left for the first answer/)).toBeVisible()

  const maker = await as(browser, house, info, 'Wilma Harrow')
  await maker.goto(`${house.url}/bench/sending`)
  await expect(maker.getByText('Problem: first answer due')).toBeVisible()
  await maker.goto(`${house.url}/bench/sending/2`)
  await maker.getByLabel('Your answer').fill('Sorry. We give ten back for it.')
  await maker.getByRole('button', { name: 'Answer', exact: true }).click()
  await expect(maker.getByText('Waiting for the buyer')).toBeVisible()
  await maker.getByText('Close the case').click()
  const close = maker.getByRole('form', { name: 'Close the case' })
  await close.getByLabel('Money is refunded').check()
  await close.getByLabel('How much is refunded').fill('999')
  await close.getByLabel('What was done, for the buyer to read').fill('Ten back for the knob.')
  await close.getByLabel('The money has already left the bank').check()
  await close.getByRole('button', { name: 'Close it' }).click()
  await expect(close.getByText(/was paid for lot 2/).first()).toBeVisible()
  await close.getByLabel('How much is refunded').fill('10')
  await close.getByRole('button', { name: 'Close it' }).click()
  await expect(maker.getByText('Closed', { exact: true })).toBeVisible()
  await expectAccessible(maker)
  await shoot(maker, 'problem', info.project.name)

  await buyer.goto(`${house.url}/me/won/2`)
  await expect(buyer.getByText(/The money was refunded\./)).toBeVisible()
  const treasurer = await as(browser, house, info, 'Edda Quill')
  await treasurer.goto(`${house.url}/bench/money`)
  await expect(treasurer.getByText(/The journal agrees with the sale/)).toBeVisible()
})
