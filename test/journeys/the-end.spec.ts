import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from '@playwright/test'
import { DAY, HOUR } from '#kernel/instant'
import { expect, expectAccessible, openRunningHouse, type RunningHouse, shoot, stepInto, test } from './journey'
import { ROOT } from './prepare'

const MAKER = 'Wilma Harrow'

const closeOut = async (page: Page, house: RunningHouse, part = '') => {
  await page.goto(`${house.url}/bench/close-out${part}`)
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
}

const point = (page: Page, title: string) => page.getByRole('listitem').filter({ has: page.getByRole('heading', { name: title }) })

/** Saves what a link gives, and answers where it lies. */
async function saved(page: Page, name: RegExp | string, dir: string): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name }).first().click()])
  const file = join(dir, download.suggestedFilename())
  await download.saveAs(file)
  return file
}

test('the campaign is closed out: the statement, the letters, the pack, and the same figures in an empty house', async ({
  watched: page,
  house,
}, info) => {
  test.setTimeout(240_000)
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-end-'))
  await stepInto(page, house, MAKER)
  await closeOut(page, house)
  await expect(point(page, 'All lots have ended')).toContainText(/Lots \d+, .* are still open/)
  await closeOut(page, house, '/packs')
  await expect(page.getByText(/leaves out sealed maxima/)).toBeVisible()

  // The evening passes; the lot that was sold elsewhere has its result entered.
  await house.pass(20 * HOUR)
  await page.goto(`${house.url}/bench/lots/4`)
  const result = page.getByRole('form', { name: 'Result' })
  await result.getByLabel('Sold for').fill('96')
  await result.getByLabel('Where the result comes from').fill('The other house, by letter')
  await result.getByRole('button', { name: 'Enter the result' }).click()
  await expect(result).toHaveCount(0)
  await closeOut(page, house)
  await expect(point(page, 'All lots have ended')).toContainText('Done.')
  await expect(point(page, 'The statement balances')).toContainText('Done.')
  await expect(point(page, 'Every lot is paid, or its sale has ended')).toContainText(/is still owed/)
  await expectAccessible(page)
  await shoot(page, 'the-end', info.project.name)

  await closeOut(page, house, '/statement')
  await expect(page.getByText('Every entry balances, every lot agrees')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'the-end-statement', info.project.name)
  const inAll = (await page.getByRole('region', { name: 'In all' }).locator('dd').allTextContents()).join(' ')
  expect(inAll).toContain('£0.00')
  const table = readFileSync(await saved(page, 'CSV', dir), 'utf8')
  expect(table).toContain('Variance,total,,,,0,GBP')
  await page.goto(`${house.url}/bench/keeping/statement`)
  await expect(page).toHaveURL(/\/bench\/close-out\/statement$/)
  const answer = await page.request.get(`${house.url}/bench/close-out/statement.pdf`)
  expect((await answer.body()).subarray(0, 5).toString()).toBe('%PDF-')

  await closeOut(page, house, '/packs')
  await page.getByRole('button', { name: 'Make it' }).click()
  await expect(page.getByText(/is ready below/)).toBeVisible({ timeout: 90_000 })
  await expectAccessible(page)
  await shoot(page, 'the-end-packs', info.project.name)
  const pack = await saved(page, /^pack-.*\.zip$/, dir)
  expect(statSync(pack).size).toBeGreaterThan(100_000)

  const empty = join(dir, 'house')
  const unpack = () =>
    spawnSync(process.execPath, ['dist/keep.mjs', 'unpack', pack], {
      cwd: ROOT,
      encoding: 'utf8',
      env: { ...process.env, DATA_DIR: empty, DEMO: '1' },
    })
  const read = unpack()
  expect(read.stderr).toBe('')
  expect(read.stdout).toContain('Every view shows the same totals as before.')
  expect(unpack().stderr).toContain('There is a house in')
  expect(existsSync(join(empty, 'tagstrip.db'))).toBe(true)

  // It goes on at the time at which the other one was left.
  const again = await openRunningHouse(empty, await house.now())
  const other = await (await page.context().browser())?.newContext()
  const second = await other?.newPage()
  if (!second) throw new Error('no second browser')
  await stepInto(second, again, MAKER)
  await closeOut(second, again, '/statement')
  expect((await second.getByRole('region', { name: 'In all' }).locator('dd').allTextContents()).join(' ')).toBe(inAll)
  await other?.close()
  await again.stop()
  rmSync(dir, { recursive: true, force: true })
})

test('every donor is told once, and contact data is shown before it is deleted', async ({ watched: page, house }, info) => {
  test.setTimeout(180_000)
  await stepInto(page, house, MAKER)
  await closeOut(page, house, '/donors')
  await expectAccessible(page)
  const send = page.getByRole('button', { name: /^Send (all|the letter)/ })
  await page.locator('main summary').first().click()
  await expect(page.getByText(/is over. It raised £/).first()).toBeVisible()
  await shoot(page, 'the-end-letters', info.project.name)
  await send.click()
  await page.getByRole('button', { name: 'Send them' }).click()
  await expect(page.getByText('Everybody who can be told has been told.')).toBeVisible()
  await expect(page.getByText(/Told on \d{4}-/).first()).toBeVisible()

  await closeOut(page, house, '/contacts')
  await expect(page.getByText(/The time is not up yet|still open/)).toBeVisible()
  await expect(page.getByRole('row', { name: /email addresses of bidders/ })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'the-end-contacts', info.project.name)
  await house.pass(95 * DAY)
  await stepInto(page, house, MAKER)
  await closeOut(page, house, '/contacts')
  await page.getByRole('button', { name: 'Delete contact data…' }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('button', { name: 'Delete it for good' }).click()
  await expect(dialog.getByText(/Type the campaign’s name exactly as it is shown here/).first()).toBeVisible()
  await dialog.getByLabel(/Type the campaign’s name/).fill('Long Bench Day')
  await dialog.getByRole('button', { name: 'Delete it for good' }).click()
  await expect(page.getByText('Contact data was deleted')).toBeVisible()
  await expect(page.getByText('There is no contact data here.')).toBeVisible()
  await closeOut(page, house)
  await expect(point(page, 'Contact data is deleted')).toContainText('Done.')
})
