import { readFileSync } from 'node:fs'
import type { Page } from '@playwright/test'
import { codeShown, expect, expectAccessible, openBidding, type RunningHouse, shoot, stepInto, test } from './journey'

// What a stranger holds in the hand: receipts saved by a bidder, the three outcomes of a check, and two witnesses of an earlier state.
test.describe.configure({ mode: 'serial' })

const LOT = 3
const file = (name: string, value: object) => ({ name, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(value)) })
const verdict = (page: Page, words: string | RegExp) => expect(page.getByText(words).first()).toBeVisible()
const choose = (page: Page, ...files: ReturnType<typeof file>[]) => page.getByLabel(/Files from this device/).setInputFiles(files)

interface Receipts {
  receipts: { opening: { lot: number; amountMinor: number } }[]
}
let kept: Receipts
let earlier: { leaves: object[]; heads: { size: number; checkpoint: string }[] }

/** Somebody from outside with a paddle, who bids once. */
async function bidOnce(page: Page, house: RunningHouse): Promise<void> {
  await page.goto(`${house.url}/sign-in?next=/paddle`)
  await page.getByLabel('Your email address').fill('rune@stranger.example')
  await page.getByRole('button', { name: 'Email me a code' }).click()
  const code = page.getByLabel('The code from the email')
  await expect(code).toBeVisible()
  await code.fill(await codeShown(page))
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.waitForURL(/\/paddle/)
  await page.getByLabel('Your name').fill('Rune')
  await page.getByLabel('Where we would send it').selectOption('GB')
  await page.getByLabel('I have no connection with the sale').check()
  await page.getByLabel(/I have read the rules/).check()
  await page.getByRole('button', { name: 'Take a paddle' }).click()
  await expect(page.getByRole('heading', { name: /Your paddle is number/ })).toBeVisible()
  await page.goto(`${house.url}/lots/${LOT}`)
  await openBidding(page)
  const form = page.getByRole('form', { name: 'Bid' })
  await form.getByRole('radio', { name: 'Another' }).check()
  await form.getByLabel('Another amount').fill('400')
  await form.getByRole('button', { name: /^Bid/ }).click()
  const [sure, taken] = [form.getByRole('button', { name: /^Yes, bid/ }), page.getByText(/holds your bid/).first()]
  await expect(sure.or(taken).first()).toBeVisible()
  if (await sure.isVisible()) await sure.click()
  await expect(taken).toBeVisible()
}

test('a bidder saves their receipts, which the checking page opens before the lot has ended', async ({ another, house }, info) => {
  const page = await another()
  earlier = await (await page.request.get(`${house.url}/lots/${LOT}/history.json`)).json()
  await bidOnce(page, house)
  await page.goto(`${house.url}/me`)
  await expect(page.getByText(/1 receipts? .* kept on this device, and the histor/)).toBeVisible()
  const saved = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save my receipts' }).click()
  kept = JSON.parse(readFileSync(await (await saved).path(), 'utf8'))
  expect(kept.receipts.map(({ opening }) => opening)).toMatchObject([{ lot: LOT, amountMinor: 40_000 }])

  await page.goto(`${house.url}/check`)
  await choose(page, file('receipts.json', kept))
  await verdict(page, 'Each receipt in it is this house’s, and whole.')
  await verdict(page, 'Not compared with a history')
  await page.getByRole('button', { name: 'Compare with the histories that the house shows now' }).click()
  await verdict(page, `The history of lot ${LOT} fits the receipts`)
  await verdict(page, /allowed 40000 in the smallest unit/)
  await expectAccessible(page)
  await shoot(page, 'check-receipts', info.project.name)
})

test('a file is this house’s and whole, was changed, or is by a key that this house does not name', async ({
  house,
  watched: page,
}, info) => {
  const history = await (await page.request.get(`${house.url}/lots/${LOT}/history.json`)).json()
  await page.goto(`${house.url}/check`)
  await choose(page, file('history.json', history))
  await verdict(page, 'It is this house’s, and whole.')
  await choose(page, file('history.json', { ...history, lot: LOT + 1 }))
  await verdict(page, /^It was changed: /)
  const foreign = history.heads.map(({ size, checkpoint }: { size: number; checkpoint: string }) => ({
    size,
    checkpoint: checkpoint.replace(/(— \S+ )\S+/, (_, name) => `${name}${Buffer.alloc(68, 7).toString('base64')}`),
  }))
  await choose(page, file('history.json', { ...history, heads: foreign }))
  await verdict(page, /^It is by a key that this house does not name/)
  await expectAccessible(page)
  await shoot(page, 'check-foreign', info.project.name)
})

test('an earlier history is compared with the one of today, and with the live one', async ({ house, watched: page }) => {
  const history = await (await page.request.get(`${house.url}/lots/${LOT}/history.json`)).json()
  expect(history.leaves.length).toBeGreaterThan(earlier.leaves.length)
  await page.goto(`${house.url}/check`)
  await choose(page, file('earlier.json', earlier), file('today.json', history))
  await verdict(page, 'One history is the beginning of the other')
  await choose(page, file('earlier.json', earlier))
  await page.getByRole('button', { name: 'Compare with the history that the house shows now' }).click()
  await verdict(page, 'One history is the beginning of the other')
})

test('a checkpoint that was kept and a code that was read out are continued, and another is not', async ({
  house,
  watched: page,
}, info) => {
  await page.goto(`${house.url}/check`)
  const witness = page.getByLabel(/A checkpoint, or the code off the screen/)
  const compare = page.getByRole('button', { name: 'Compare with the history', exact: true })
  await witness.fill(earlier.heads.at(-1)?.checkpoint ?? '')
  await compare.click()
  await verdict(page, 'The history shown now continues it.')

  await page.goto(`${house.url}/lots/${LOT}/history`)
  const [code = ''] = /(?:[0-9A-HJKMNP-TV-Z]{4} ){4}[0-9A-Z]{2}\d\d/.exec((await page.locator('main').textContent()) ?? '') ?? []
  expect(code).not.toBe('')
  await page.goto(`${house.url}/check`)
  await witness.fill(code.toLowerCase())
  await page.getByLabel(/Number of the lot/).fill(String(LOT))
  await compare.click()
  await verdict(page, 'The history shown now continues it.')
  await page.getByLabel(/Number of the lot/).fill('1')
  await compare.click()
  await verdict(page, 'The history shown now does not continue it.')
  await expectAccessible(page)
  await shoot(page, 'check-code', info.project.name)
})

test('the maker sees how the house is, the worst first', async ({ house, watched: page }, info) => {
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/house`)
  await expect(page.getByRole('heading', { name: 'How is the house?' })).toBeVisible()
  await expect(page.getByText('It is checked every five seconds.')).toBeVisible()
  await expect(page.getByText(/This is a demo: its mail goes nowhere/).first()).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'house', info.project.name)
})
