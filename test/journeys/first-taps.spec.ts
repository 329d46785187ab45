import type { Page } from '@playwright/test'
import { codeShown, expect, stepInto, test } from './journey'

/** Opens a page whose own program does not come before it is let through, as on a slow line. */
async function openUnderWay(page: Page, url: string): Promise<() => Promise<void>> {
  let letThrough = () => {}
  const through = new Promise<void>((resolve) => {
    letThrough = resolve
  })
  const program = /\/_next\/static\/.*\.js$/
  await page.route(program, async (route) => {
    await through
    await route.continue()
  })
  await page.goto(url, { waitUntil: 'commit' })
  return async () => {
    letThrough()
    await page.unroute(program, () => {})
  }
}

test('what is tapped and written before the page has its program is done once it is there', async ({ watched: page, house }) => {
  test.slow()
  // A button that no form stands behind.
  const { lots } = (await (await fetch(`${house.url}/lots.json`)).json()) as {
    lots: { number: number; state: string; soldWhere: string }[]
  }
  // The one that closes last: a browser that is kept waiting outlives none of its minutes.
  const open = lots.findLast(({ state, soldWhere }) => state === 'open' && soldWhere === 'here')?.number
  const lot = await openUnderWay(page, `${house.url}/lots/${open}`)
  await page.getByRole('contentinfo').waitFor()
  const strip = page.getByRole('link', { name: /^(Bid|Raise)$/ })
  if (await strip.isVisible()) await strip.click()
  const choose = page.getByRole('button', { name: 'Choose an amount' })
  await choose.click()
  await expect(choose).toHaveAttribute('aria-busy', 'true')
  await expect(page.getByRole('form', { name: 'Bid' })).toHaveCount(0)
  await lot()
  await expect(page.getByRole('form', { name: 'Bid' })).toBeVisible()

  // A form: what was written in it goes with it, and it is sent once, however often it was tapped.
  const signIn = await openUnderWay(page, `${house.url}/sign-in`)
  await page.getByLabel('Your email address').fill('hasty@script.example')
  await page.getByRole('button', { name: 'Email me a code' }).click({ clickCount: 3, noWaitAfter: true })
  const asked: string[] = []
  page.on('request', (request) => request.method() === 'POST' && asked.push(new URL(request.url()).pathname))
  await signIn()
  expect(await codeShown(page)).toMatch(/^\d{6}$/)
  // By the page's own program, or as a plain form where that took too long to come: once in either case.
  expect(asked).toHaveLength(1)
  expect(asked[0]).toMatch(/^\/(api\/trpc\/people\.askCode|sign-in)$/)
})

test('what was chosen and written in fields that the page follows is what it goes on with', async ({ watched: page, house }) => {
  await stepInto(page, house, 'Wilma Harrow')
  const home = await openUnderWay(page, `${house.url}/units/TERN-01/home`)
  const field = page.locator('main input').first()
  await field.fill('A bench meter')
  await home()
  await expect(field).toHaveValue('A bench meter')
  await expect.poll(() => page.evaluate(() => JSON.stringify(localStorage))).toContain('A bench meter')
})
