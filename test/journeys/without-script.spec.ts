import { renameSync } from 'node:fs'
import { expect, test } from './journey'

test('without script pages that move say as of when they are, and somebody signs in from a lot', async ({ browser, house }) => {
  const plain = await browser.newContext({ javaScriptEnabled: false })
  const page = await plain.newPage()
  for (const path of ['/', '/programme', '/raised', '/lots/2']) {
    await page.goto(`${house.url}${path}`)
    await expect(page.getByText(/as of \d\d:\d\d:\d\d in /)).toBeVisible()
    await page.getByRole('link', { name: 'Reload for the latest' }).click()
    await expect(page).toHaveURL(`${house.url}${path}`)
  }

  await page.goto(`${house.url}/sign-in?next=%2Flots%2F2`)
  await page.getByLabel('Your email address').fill('nobody at all')
  await page.getByRole('button', { name: 'Email me a code' }).click()
  await expect(page.getByLabel('Your email address')).toHaveValue('nobody at all')
  await expect(page.getByLabel('Your email address')).toHaveAccessibleDescription(/Write an email address/)
  await page.getByLabel('Your email address').fill('without@script.example')
  await page.getByRole('button', { name: 'Email me a code' }).click()
  const code = /\d{6}/.exec((await page.getByText(/This is a demo, so no email is sent/).textContent()) ?? '')?.[0] ?? ''
  await page.getByLabel('The code from the email').fill(code)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await expect(page).toHaveURL(/\/paddle\?next=%2Flots%2F2$/)
  await expect(page.getByRole('heading', { name: 'Take a paddle' })).toBeVisible()

  await page.goto(`${house.url}/check`)
  await expect(page.getByText(/Checking here needs a browser that runs scripts/)).toBeVisible()
  await plain.close()
})

test('without script a page says while nothing is taken and why, and no longer than that', async ({ browser, house }) => {
  const plain = await browser.newContext({ javaScriptEnabled: false })
  const page = await plain.newPage()
  const paths = ['/', '/lots/2', '/programme', '/check', '/sign-in', '/units/TERN-01']
  const says = (path: string) => async () => {
    await page.goto(house.url + path)
    return page.getByRole('status').first().textContent()
  }
  for (const path of paths) expect(await says(path)()).toBe('')
  renameSync(house.dataDir, `${house.dataDir}-away`)
  for (const path of paths) await expect.poll(says(path)).toContain('Nothing can be taken just now, because the database of this house')
  renameSync(`${house.dataDir}-away`, house.dataDir)
  for (const path of paths) await expect.poll(says(path)).toBe('')
  await plain.close()
})
