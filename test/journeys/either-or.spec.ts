import type { Page } from '@playwright/test'
import { codeShown, expect, expectAccessible, type RunningHouse, shoot, stepInto, test } from './journey'

// An either-or made on a page, a void by two of the staff, the next maximum that wakes at the close, and a stranger's check offline.
test.describe.configure({ mode: 'serial' })

/** Somebody from outside, signed in with the code from their mail and holding a paddle. */
async function register(page: Page, house: RunningHouse, name: string): Promise<void> {
  const email = `${name.toLowerCase()}@stranger.example`
  await page.goto(`${house.url}/sign-in?next=/paddle`)
  await page.getByLabel('Your email address').fill(email)
  await page.getByRole('button', { name: 'Email me a code' }).click()
  await expect(page.getByLabel('The code from the email')).toBeVisible()
  const code = await codeShown(page)
  await page.getByLabel('The code from the email').fill(code)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.waitForURL(/\/paddle/)
  await page.getByLabel('Your name').fill(name)
  await page.getByLabel('Where we would send it').selectOption('GB')
  await page.getByLabel('I have no connection with the sale').check()
  await page.getByLabel(/I have read the rules/).check()
  await page.getByRole('button', { name: 'Take a paddle' }).click()
  await expect(page.getByRole('heading', { name: /Your paddle is number/ })).toBeVisible()
}

test('a bidder makes an either-or, two of the staff void its bid, and its second maximum wakes at the close', async ({
  another,
  house,
}, info) => {
  const [maker, ilse] = [await another(), await another()]
  await stepInto(maker, house, 'Wilma Harrow')
  await register(ilse, house, 'Ilse')

  await ilse.goto(`${house.url}/me/either-or`)
  const form = ilse.getByRole('form', { name: 'A new either-or' })
  await form.getByLabel('First').selectOption('3')
  await form.getByLabel('The most for lot 3').fill('400')
  await form.getByLabel('If that is lost, then').selectOption('5')
  await form.getByLabel('The most for lot 5').fill('90')
  await expect(form.getByText(/A bid on lot 5 has to be at least/)).toBeVisible()
  await form.getByLabel('The most for lot 5').fill('260')
  await expect(form.getByText(/A bid on lot 5 has to be at least/)).toHaveCount(0)
  await expect(form.getByRole('img', { name: /1, Lot 3.*2, Lot 5/ })).toBeVisible()
  // A nought too many is asked about, and nothing is sent.
  await form.getByLabel('The most for lot 5').fill('26000')
  await form.getByRole('button', { name: 'Place these bids' }).click()
  await expect(form.getByLabel('The most for lot 5')).toHaveAccessibleDescription(/Is £26,000\.00 what you mean\?/)
  await expect(form.getByRole('button', { name: 'Yes, place these bids' })).toBeVisible()
  await form.getByLabel('The most for lot 5').fill('260')
  await form.getByRole('button', { name: 'Place these bids', exact: true }).click()
  await expect(ilse.getByText(/checked in this browser: you lead lot 3 at £175\. One more lot waits for its turn\./)).toBeVisible()
  const chain = ilse.getByRole('region', { name: 'Either-or of 2 lots' })
  await expect(chain.getByText('You lead', { exact: true })).toBeVisible()
  await expect(chain.getByText('Waiting', { exact: true })).toBeVisible()
  await expect(chain.getByText('£400')).toHaveCount(0)
  await chain.getByRole('button', { name: 'Show my maxima' }).click()
  await expect(chain.getByText(/Up to £400/)).toBeVisible()
  await expectAccessible(ilse)
  await shoot(ilse, 'either-or', info.project.name, false)

  await ilse.goto(`${house.url}/lots/5`)
  // On a phone the form is opened by the strip at the foot of the page.
  const strip = ilse.getByRole('link', { name: 'Bid', exact: true })
  if (await strip.isVisible()) await strip.click()
  await expect(ilse.getByText(/This lot is in your either-or/)).toBeVisible()
  await expect(ilse.getByRole('form', { name: 'Bid' })).toHaveCount(0)
  await ilse.goto(`${house.url}/me/either-or`)

  const host = await another()
  await stepInto(host, house, 'Jory Penn')
  await host.goto(`${house.url}/bench/lots/3`)
  const row = host.locator('tr').filter({ hasText: 'Ilse' })
  await row.getByRole('button', { name: 'Void…' }).click()
  await host
    .getByRole('dialog', { name: /Void the bids of/ })
    .getByLabel('Reason, for everybody to read')
    .fill('Asked for by the bidder.')
  await host.getByRole('button', { name: 'Ask for it' }).click()
  await expect(host.getByText(/Jory Penn, host, asked .* to void/)).toBeVisible()
  await expect(host.getByText(/You asked for it yourself/)).toBeVisible()
  await expect(host.getByRole('button', { name: 'Agree, void them' })).toHaveCount(0)
  const treasurer = await another()
  await stepInto(treasurer, house, 'Edda Quill')
  await treasurer.goto(`${house.url}/bench/lots`)
  await expectAccessible(treasurer)
  await treasurer.getByRole('link', { name: 'Lot 3', exact: true }).click()
  await expect(treasurer.getByRole('heading', { name: 'A void is waiting for a second member of staff' })).toBeVisible()
  await expect(treasurer.getByText('Ilse'), 'a treasurer learns of no bidder').toHaveCount(0)
  await expectAccessible(treasurer)
  await shoot(treasurer, 'void-agreed', info.project.name)
  await treasurer.getByRole('button', { name: 'Agree, void them' }).click()
  await expect(treasurer.getByRole('button', { name: 'Agree, void them' })).toHaveCount(0)
  await maker.goto(`${house.url}/bench/lots/3`)
  await expect(maker.getByText('Voided', { exact: true }).first()).toBeVisible()
  await expect(chain.getByText('Outbid', { exact: true })).toBeVisible()

  // The void put the closing a quarter of an hour away; at it the lot is lost, and the other maximum stands.
  await house.pass(16 * 60_000)
  await expect(chain.getByText('Lost', { exact: true })).toBeVisible({ timeout: 20_000 })
  await expect(chain.getByText('You lead', { exact: true })).toBeVisible({ timeout: 20_000 })

  await maker.goto(`${house.url}/bench/lots/look`)
  await expect(maker.getByRole('heading', { name: 'Asked to withdraw a bid' })).toBeVisible()
  await expectAccessible(maker)
})

test('a stranger checks the history of that lot with the network off, and finds one changed digit', async ({ another, house }, info) => {
  const page = await another()
  await page.goto(`${house.url}/lots/3/history`)
  await expect(page.getByText(/voided by two of the staff, asked for by the host at .*, agreed to by the treasurer at/)).toBeVisible()
  await expect(page.getByRole('img', { name: /bids, from .* won/ })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'history', info.project.name, false)
  await page.getByRole('button', { name: 'Check it in this browser' }).click()
  await expect(page.getByRole('heading', { name: /^It holds/ })).toBeVisible()
  await expect(page.getByText(/heads carry the house’s signature/)).toBeVisible()

  const kept = await (await fetch(`${house.url}/lots/3/history.json`)).text()
  await page.context().setOffline(true)
  const choose = (name: string, text: string) =>
    page.getByLabel('A history as a file').setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) })
  await choose('kept.json', kept)
  await expect(page.getByRole('heading', { name: 'It holds: kept.json' })).toBeVisible()
  await expect(page.getByText(/^The winner is /)).toBeVisible()
  await choose('tampered.json', kept.replace(/"hammerMinor":\d/, '"hammerMinor":9'))
  await expect(page.getByRole('heading', { name: 'It does not hold: tampered.json' })).toBeVisible()
  await choose('other.json', 'no history at all')
  await expect(page.getByText(/It is not JSON/)).toBeVisible()
  await page.context().setOffline(false)
})
