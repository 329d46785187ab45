import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Locator, Page } from '@playwright/test'
import { expect, expectAccessible, type RunningHouse, shoot, stepInto, test } from './journey'

// The day as the host runs it, on two screens, and the same day rehearsed beside it.
test.describe.configure({ mode: 'serial' })

interface Frame {
  number: number
  state: string
  bids: number
  headHash: string | null
  closesAt: number | null
}

/** What everybody may know of the lots. */
async function lotsOf(house: RunningHouse): Promise<Frame[]> {
  const answer = (await (await fetch(`${house.url}/api/trpc/bidding.frames`)).json()) as { result: { data: { lots: Frame[] } } }
  return answer.result.data.lots.map(({ number, state, bids, headHash, closesAt }) => ({ number, state, bids, headHash, closesAt }))
}

const lotOf = async (house: RunningHouse, number: number) => (await lotsOf(house)).find((lot) => lot.number === number)

/** Minutes of arc of a capital on a laptop of 13 inches (16:10, 179 mm high), seen from two metres; null where it is out of sight. */
const arcOf = (page: Page, name: string) =>
  page.evaluate((shown) => {
    const element = [...document.querySelectorAll('p, li, b, span, button, kbd')].findLast(
      (one) => one.textContent?.includes(shown) && one.getClientRects().length > 0,
    )
    const box = element?.getBoundingClientRect()
    const pen = document.createElement('canvas').getContext('2d')
    const middle = box ? (box.top + box.bottom) / 2 : -1
    if (!element || !pen || middle < 0 || middle > innerHeight) return null
    const { fontStyle, fontWeight, fontSize, fontFamily } = getComputedStyle(element)
    pen.font = `${fontStyle} ${fontWeight} ${fontSize} ${fontFamily}`
    const capital = (pen.measureText('H').actualBoundingBoxAscent * 179) / innerHeight
    return (Math.atan(capital / 2000) * 180 * 60) / Math.PI
  }, name)

/** While all is held: the notice, the lot, what to say and the key that lets the clocks go on, across a room and across a hall. */
async function expectReadFrom(page: Page, house: RunningHouse): Promise<void> {
  const before = page.viewportSize()
  await page.setViewportSize({ width: 1280, height: 800 })
  for (const [distance, least] of [
    ['room', 16],
    ['hall', 32],
  ] as const) {
    await page.goto(`${house.url}/air/host?distance=${distance}`)
    await expect(page.getByText('Held since')).toBeVisible()
    await page.evaluate(() => document.fonts.ready)
    const wanted = ['Held since', '£', 'On hold: say why', 'go on', ...(distance === 'room' ? ['Lot 3:', 'Lot 4:', 'late'] : [])]
    for (const words of wanted) {
      const arc = await arcOf(page, words)
      expect(arc, `${words}, ${distance}`).toBeGreaterThanOrEqual(least)
    }
    expect(await page.evaluate(() => document.querySelector('.air-ground')?.scrollHeight), distance).toBeLessThanOrEqual(800)
    const title = page.locator('p').filter({ hasText: /^Lot 3: / })
    if (distance === 'room') expect(await title.evaluate((one) => one.scrollWidth <= one.clientWidth), 'the title is read whole').toBe(true)
  }
  if (before) await page.setViewportSize(before)
  await page.goto(`${house.url}/air/host?distance=near`)
  await expect(page.getByText('● live')).toBeVisible()
}

test('a break is planned and announced, and the day is played for what may go wrong', async ({ another, house }, info) => {
  const host = await another()
  await stepInto(host, house, 'Jory Penn')
  await host.goto(`${house.url}/bench/programme`)
  const form = host.getByRole('form', { name: 'Put something in' })
  await form.getByText('A break', { exact: true }).click()
  await form.getByLabel(/What is it called/).fill('Fresh air')
  const at = new Date((await house.now()) + 5 * 3_600_000)
  const two = (value: number) => String(value).padStart(2, '0')
  await form.getByLabel('Day', { exact: true }).fill(`${at.getUTCFullYear()}-${two(at.getUTCMonth() + 1)}-${two(at.getUTCDate())}`)
  await form.getByLabel(/Time in/).fill(`${two(at.getUTCHours())}:${two(at.getUTCMinutes())}`)
  await form.getByLabel('It cannot come later').check()
  await form.getByRole('button', { name: 'Put it in' }).click()
  await expect(host.getByRole('row', { name: /Fresh air/ })).toContainText('not announced, keeps its time')
  await host.getByRole('button', { name: /Announce/ }).click()
  await host.getByRole('dialog').getByRole('button', { name: 'Announce' }).click()
  await expect(host.getByRole('row', { name: /Fresh air/ })).not.toContainText('not announced')
  await host.getByRole('button', { name: 'Play the day' }).click()
  await expect(host.getByText('Played 10,000 days.')).toBeVisible()
  await expect(host.getByRole('table', { name: /if the host changes nothing/ })).toBeVisible()
  await expectAccessible(host)
  await shoot(host, 'the-day-played', info.project.name)
})

test('two hosts see the day run late, stand still, go on and close', async ({ another, house }, info) => {
  test.setTimeout(240_000)
  const [one, other] = [await another(), await another()]
  for (const host of [one, other]) {
    await stepInto(host, house, 'Jory Penn')
    await host.goto(`${house.url}/air/host?distance=near`)
    await expect(host.getByText('● live')).toBeVisible()
  }
  const planned = (await lotOf(house, 3))?.closesAt ?? 0

  // A change that is taken back with one key has moved nothing.
  const dialog = one.getByRole('dialog')
  await one.keyboard.press('l')
  await expect(dialog.getByRole('table')).toContainText('Lot 3')
  await letAllCome(dialog)
  await dialog.getByRole('button', { name: 'Do it' }).click()
  await expect(one.getByRole('button', { name: /Take it back/ })).toBeVisible()
  await one.keyboard.press('u')
  await expect(one.getByRole('button', { name: 'Hold everything H' })).toBeVisible()
  expect((await lotOf(house, 3))?.closesAt).toBe(planned)

  await one.keyboard.press('l')
  await expect(dialog.getByText(/sent an email/)).toBeVisible()
  await shoot(one, 'the-day-ripple', info.project.name, false)
  await dialog.getByLabel('How many minutes later?').fill('5')
  await expect(dialog.getByRole('table')).toContainText('Lot 3')
  await letAllCome(dialog)
  await dialog.getByRole('button', { name: 'Do it' }).click()
  await expect.poll(async () => (await lotOf(house, 3))?.closesAt, { timeout: 30_000 }).toBe(planned + 5 * 60_000)
  const clock = new Date(planned + 5 * 60_000).toLocaleTimeString('en-GB', {
    timeZone: 'Europe/London',
    hour: '2-digit',
    minute: '2-digit',
  })
  for (const host of [one, other]) await expect(host.getByText(`, at ${clock}`)).toBeVisible()

  await other.keyboard.press('h')
  await expect(other.getByRole('dialog').getByText(/lots stop/)).toBeVisible()
  await other.getByRole('dialog').getByRole('button', { name: 'Hold everything' }).click()
  for (const host of [one, other]) await expect(host.getByText(/All clocks( here)? have been held since/)).toBeVisible()
  // Whoever is in a hurry types nothing, so what everybody reads names no cause that the host did not choose.
  await expect(one.getByText('The host has stopped the clocks.').first()).toBeVisible()
  expect((await lotOf(house, 3))?.state).toBe('held')

  // A laptop is what it is measured on.
  if (info.project.name === 'desktop') await expectReadFrom(one, house)
  await house.pass(3 * 60_000)
  await one.keyboard.press('r')
  await expect(dialog.getByRole('table')).toContainText('Lot 3')
  await expectAccessible(one)
  await dialog.getByRole('button', { name: 'Go on' }).click()
  for (const host of [one, other]) await expect(host.getByText(/All clocks( here)? have been held since/)).toBeHidden({ timeout: 30_000 })

  const closes = (await lotOf(house, 3))?.closesAt ?? 0
  await house.pass(closes - (await house.now()) + 2000)
  for (const host of [one, other]) await expect(host.getByText('Lot 3 has closed')).toBeVisible()
  await expect(one.getByRole('region', { name: 'Cue' })).toContainText('Thank')
  await expectAccessible(one)
  await shoot(one, 'the-day-closed', info.project.name, false)
})

test('a rehearsal plays the rest of the day on a copy, and touches nothing', async ({ another, house }, info) => {
  test.setTimeout(300_000)
  const maker = await another()
  await stepInto(maker, house, 'Wilma Harrow')
  const before = await lotsOf(house)
  await maker.goto(`${house.url}/bench/rehearsal`)
  await maker.getByRole('button', { name: 'Start a rehearsal' }).click()
  const way = maker.getByRole('link', { name: 'Step into the rehearsal' })
  await expect(way).toBeVisible({ timeout: 90_000 })
  await expectAccessible(maker)

  const inside = await another()
  await inside.goto((await way.getAttribute('href')) ?? '')
  // The page comes twice, the second time behind the gate; a tap before it listens does nothing yet.
  await expect(async () => {
    await inside.getByRole('button', { name: 'Make things go wrong' }).click({ timeout: 5_000 })
    await inside.waitForURL(/\/bench\/rehearsal/, { timeout: 10_000 })
  }).toPass({ timeout: 90_000 })
  const mark = () => inside.evaluate(() => getComputedStyle(document.body, '::before').content)
  expect(await mark()).toContain('REHEARSAL')
  await inside.getByRole('button', { name: 'A burst of bids' }).click()
  await expect(inside.getByText('40 bids come at once.')).toBeVisible()
  await inside.getByRole('button', { name: '300×' }).click()
  await inside.getByRole('button', { name: 'The stream is lost' }).click()
  await expect(inside.getByText('The stream is back.')).toBeVisible({ timeout: 60_000 })
  await expectAccessible(inside)
  await inside.goto(new URL('/air/host', inside.url()).href)
  expect(await mark()).toContain('REHEARSAL')
  await shoot(inside, 'the-day-rehearsed-host', info.project.name, false)

  await expect(maker.getByRole('heading', { name: 'How it went' })).toBeVisible({ timeout: 120_000 })
  await expect(maker.getByRole('table', { name: /Rehearsed from/ })).toContainText('Lot 5')
  await shoot(maker, 'the-day-rehearsed', info.project.name)
  expect(await lotsOf(house)).toEqual(before)
  await inside.goto('about:blank')
  await maker.getByRole('button', { name: 'Stop it and delete the copy' }).click()
  await expect(maker.getByRole('button', { name: 'Start a rehearsal' })).toBeVisible()
  expect(readdirSync(join(house.dataDir, 'rehearsals')).filter((name) => name.endsWith('.copy'))).toEqual([])
})

/** A lot that would come behind one whose time nobody can move is said to be, and let. */
async function letAllCome(dialog: Locator) {
  const choices = dialog.getByRole('button', { name: /^Let it come at/ })
  await expect(async () => {
    if ((await choices.count()) > 0) await choices.first().click({ timeout: 1_000 })
    expect(await choices.count()).toBe(0)
  }).toPass({ timeout: 20_000 })
  await expect(dialog.getByRole('table')).toContainText('Lot 3')
}
