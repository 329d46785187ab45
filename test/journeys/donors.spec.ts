import { readFileSync } from 'node:fs'
import type { Page } from '@playwright/test'
import { expect, expectAccessible, shoot, stepInto, test, watch } from './journey'

// The people's side: a volunteer with a phone and no connection, a reader with something in a drawer, a donor with a link.

// Three pages at a time on a busy machine: each waits for states, never for a time.
test.slow()

/** A picture of a parcel, as a phone would take one. */
const PICTURE = { name: 'parcel.png', mimeType: 'image/png', buffer: readFileSync(new URL('../../public/readme/lot.png', import.meta.url)) }

/** Counts what a thumb does. */
function thumbOf(page: Page) {
  let taps = 0
  return {
    taps: () => taps,
    tap: async (name: RegExp | string) => {
      taps += 1
      await page.getByRole('button', { name }).click()
    },
    photograph: async () => {
      taps += 1
      await page.getByLabel('Photograph it').setInputFiles(PICTURE)
      await expect(page.getByAltText('The photograph just chosen')).toBeVisible()
    },
  }
}

test('a volunteer logs parcels on a phone, without a connection and with the page closed in between', async ({ browser, house }, info) => {
  const context = await browser.newContext({ ...info.project.use, baseURL: house.url })
  const { page } = await watch(context)
  await stepInto(page, house, 'Tobi Lark')

  const began = Date.now()
  await page.goto('/bench/parcels/new')
  const thumb = thumbOf(page)
  await thumb.photograph()
  await thumb.tap(/Ines Abreu/)
  // The worker has kept the page before the connection is lost, as it has on a phone that was here before.
  await page.waitForFunction(async () => Boolean(await (await caches.open('tagstrip-parcel-page')).match('/bench/parcels/new')))
  await context.setOffline(true)
  await thumb.tap('All there: log it')
  await expect(page.getByRole('heading', { name: 'Saved on this phone, from Ines Abreu' })).toBeVisible()
  const took = Date.now() - began
  info.annotations.push({ type: 'a parcel on a phone', description: `${thumb.taps()} taps, ${(took / 1000).toFixed(1)} s` })
  process.stdout.write(`a known donor with a promise: ${thumb.taps()} taps, ${(took / 1000).toFixed(1)} s, offline\n`)
  expect(thumb.taps()).toBeLessThanOrEqual(6)
  await page.close()

  const again = await context.newPage()
  await again.goto('/bench/parcels/new')
  await expect(again.getByText('1 parcel is waiting on this phone')).toBeVisible()
  await again.getByRole('button', { name: /Nobody knows/ }).click()
  await again.getByLabel('What is it?').fill('A bag of knobs')
  await again.getByRole('button', { name: 'Log it' }).click()
  await expect(again.getByText('2 parcels are waiting on this phone')).toBeVisible()
  await shoot(again, 'parcel-offline', info.project.name)

  await context.setOffline(false)
  await expect(again.getByText(/The parcel from Ines Abreu was sent. Write B-\d+/)).toBeVisible()
  await expect(again.getByText(/The parcel from Sender not known .* was sent/)).toBeVisible()
  await again.goto('/bench/parcels')
  await expect(again.getByRole('heading', { name: 'Ines Abreu' }).first()).toBeVisible()
  await expect(again.getByRole('img', { name: 'The parcel from Ines Abreu' })).toHaveCount(1)
  await expectAccessible(again)

  // Who sent the bag is found out later.
  const parcel = again
    .getByRole('listitem')
    .filter({ hasText: 'A bag of knobs' })
    .filter({ has: again.getByLabel('Who sent it?') })
  await parcel.getByLabel('Who sent it?').selectOption({ label: 'Petra Vane' })
  await expect(parcel.getByText('One gift and one parcel')).toBeVisible()
  await parcel.getByRole('button', { name: 'It is from Petra Vane' }).click()
  await expect(again.getByRole('heading', { name: 'Petra Vane' }).first()).toBeVisible()
  await context.close()
})

test('a reader promises what is wanted, and where to send it is told only when the maker has said yes', async ({
  watched,
  house,
  browser,
}, info) => {
  await watched.goto(`${house.url}/wanted`)
  await expectAccessible(watched)
  await watched.getByRole('button', { name: 'Promise it' }).click()
  await expect(watched.getByText('Write your name, so that we know whom to thank.').first()).toBeVisible()
  await watched.getByLabel('What?').selectOption({ label: 'Something else' })
  await watched.getByLabel('What are you offering?').fill('A crate of enamelled wire')
  await watched.getByLabel('How many?').fill('3')
  await watched.getByLabel('Your name').fill('Ravi Osei')
  await watched.getByLabel('Your email address').fill('ravi')
  await watched.getByRole('button', { name: 'Promise it' }).click()
  await expect(watched.getByText('Write an email address like ines@example.org', { exact: false }).first()).toBeVisible()
  await expect(watched.getByLabel('What are you offering?')).toHaveValue('A crate of enamelled wire')
  await watched.getByLabel('Your email address').fill('ravi@osei.example')
  await watched.getByRole('button', { name: 'Promise it' }).click()
  await expect(watched.getByText('Please send nothing before that.')).toBeVisible()
  await watched.goto(`${house.url}/wanted`)
  await expect(watched.getByText('enamelled wire')).toHaveCount(0)

  const bench = await browser.newContext({ ...info.project.use, baseURL: house.url })
  const maker = await bench.newPage()
  await stepInto(maker, house, 'Wilma Harrow')
  await maker.goto('/bench/donors')
  await expect(maker.getByText('3 × A crate of enamelled wire', { exact: true })).toBeVisible()
  await maker.getByRole('form', { name: 'Accept 3 × A crate of enamelled wire' }).getByRole('button', { name: 'Accept it' }).click()
  await expect(maker.getByText('3 × A crate of enamelled wire', { exact: true })).toHaveCount(0)
  await maker.goto('/bench/outbox')
  const told = maker.getByRole('article').filter({ hasText: 'ravi@osei.example' }).filter({ hasText: '4 Slip Road' })
  await told.getByText('Read it').click()
  await expect(told.getByText('4 Slip Road', { exact: false })).toBeVisible()
  await bench.close()
})

test('a donor opens their own page by a link and takes a consent back, and an open page of credits lets go of the name', async ({
  watched,
  house,
  browser,
}, info) => {
  const bench = await browser.newContext({ ...info.project.use, baseURL: house.url })
  const maker = await bench.newPage()
  await stepInto(maker, house, 'Wilma Harrow')
  await maker.goto('/bench/donors')
  await maker.getByRole('link', { name: 'Bram Osei' }).first().click()
  await maker.getByRole('button', { name: 'Make one to hand over' }).click()
  const link = (await maker.getByText('/yours#').textContent()) ?? ''
  await maker.close()

  const reader = await bench.newPage()
  await reader.goto('/credits')
  const names = reader.getByRole('region', { name: 'Everyone' })
  await expect(names.getByText('Bram Osei')).toBeVisible()

  await watched.goto(link)
  await expect(watched.getByRole('heading', { name: 'What became of your gifts, Bram Osei' })).toBeVisible()
  await expect(watched.getByText('TERN-01').first()).toBeVisible()
  await expectAccessible(watched)
  await shoot(watched, 'donor-own-page', info.project.name)
  await watched.getByLabel('On this site').uncheck()
  await expect(watched.getByText('Withdrawn. You are no longer named there.')).toBeVisible()
  await expect(names.getByText('Bram Osei')).toHaveCount(0)
  await expect(names.getByText('Petra Vane')).toBeVisible()

  await watched.getByRole('button', { name: 'Close this link…' }).click()
  await watched.getByRole('button', { name: 'Close it' }).click()
  await expect(watched.getByText('That link is closed')).toBeVisible()
  await watched.goto(`${house.url}/credits`)
  await watched.goto(link)
  await expect(watched.getByText('no longer opens a page', { exact: false })).toBeVisible()
  await watched.getByLabel('The email address we wrote to you at').fill('bram@osei.example')
  await watched.getByRole('button', { name: 'Send me a new link' }).click()
  await expect(watched.getByText('Check your email')).toBeVisible()
  await bench.close()
})
