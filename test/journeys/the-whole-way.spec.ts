import type { Page } from '@playwright/test'
import sharp from 'sharp'
import { drawPhotograph } from '#seed/pictures'
import { atHand, enter, fitPart, untilNext } from './bench-hand'
import { codeShown, expect, expectAccessible, openBidding, type RunningHouse, shoot, stepInto, test } from './journey'

// One machine, WREN-02, from a parcel to money. Each step begins where the one before it ended.
test.describe.configure({ mode: 'serial' })

const TAG = 'WREN-02'
/** The number of its lot, after those of the story. */
const LOT = 16
const TITLE = 'Tidemill clock, the second of three'
const picture = (text: string) =>
  sharp({ create: { width: 1200, height: 900, channels: 3, background: '#b98d5b' } })
    .composite([{ input: Buffer.from(`<svg width="1200" height="900"><text x="60" y="480" font-size="96">${text}</text></svg>`) }])
    .jpeg()
    .toBuffer()

test('1. the volunteer logs parcels: a new donor with consents and a photograph, and a promise that was waiting', async ({
  another,
  house,
}, info) => {
  const page = await another()
  await stepInto(page, house, 'Tobi Lark')
  await expect(page.getByRole('heading', { name: 'A parcel has come' })).toBeVisible()
  await expectAccessible(page)

  await page
    .getByLabel('The parcel, as it came')
    .setInputFiles({ name: 'parcel.jpg', mimeType: 'image/jpeg', buffer: await picture('a parcel') })
  await page.getByLabel('From whom?').fill('Nils Aker')
  await page.getByRole('button', { name: /Nils Aker/ }).click()
  await page.getByLabel('Email address').fill('nils@aker.example')
  await page.getByLabel('On the page').check()
  await page.getByLabel('On stream').check()
  await page.getByLabel('What is it?').fill('A box of brass screws')
  await page.getByLabel('How many?').fill('40')
  await page.getByRole('button', { name: /log it/i }).click()
  await expect(page.getByRole('heading', { name: 'Logged, from Nils Aker' })).toBeVisible()
  await expect(page.getByText('40 × A box of brass screws')).toBeVisible()

  await page.getByRole('button', { name: 'The next parcel' }).click()
  await page.getByRole('button', { name: /Ines Abreu.*promised 6/ }).click()
  await shoot(page, 'parcel', info.project.name, false)
  await page.getByRole('button', { name: 'All there: log it' }).click()
  await expect(page.getByRole('heading', { name: 'Logged, from Ines Abreu' })).toBeVisible()
  await expect(page.getByText('As promised.')).toBeVisible()
  await expect(page.getByText(`${TAG} can be built now`)).toBeVisible()
})

test('2. the maker sees what that unblocked, fits, works down the checklist through a failure and its rework, and the strip moves', async ({
  another,
  house,
}, info) => {
  test.setTimeout(150_000)
  const page = await another()
  await stepInto(page, house, 'Wilma Harrow')
  await expect(page.getByRole('heading', { name: 'The rack' })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'rack', info.project.name)

  await page.goto(`${house.url}/bench/units/${TAG}`)
  await page.getByLabel('Tag on the machine').fill('WREN-03')
  await page.getByRole('button', { name: 'Start work' }).click()
  await expect(page.getByRole('link', { name: 'Go to WREN-03' })).toBeVisible()
  await page.getByLabel('Tag on the machine').fill(TAG)
  await page.getByRole('button', { name: 'Start work' }).click()
  await fitPart(page, /Seven-segment digit/)

  const taken: string[] = []
  for (let turns = 0; turns < 90; turns++) {
    const now = await atHand(page)
    if (!now) {
      // Chips go in late, after the rails are known to be right.
      const sheet = page.getByRole('region', { name: /^Fit/ })
      if ((await sheet.count()) === 0) break
      await fitPart(page, /Controller|Sink driver/)
      continue
    }
    if (now.check === 'D12' && (await page.getByRole('region', { name: /^Fit/ }).locator('summary').count()) > 0)
      await fitPart(page, /Sink driver/)
    if (now.check === 'D10' && (await page.getByRole('region', { name: /^Fit/ }).locator('summary').count()) > 0)
      await fitPart(page, /Controller/)
    if (now.does === 'release') await page.getByRole('button', { name: 'Release it' }).click()
    else if (now.check === 'D15' && !taken.includes('D15')) {
      await enter(page, 'D15', '18.2')
      await expect(page.getByText('Failed').first()).toBeVisible()
      await shoot(page, 'bench', info.project.name, false)
      await rework(page)
    } else await enter(page, now.check)
    taken.push(now.check)
    await untilNext(page, now)
  }
  expect(taken).toContain('D26')
  expect(taken.filter((check) => check === 'D15').length).toBeGreaterThanOrEqual(2)
  await expect(page.getByRole('heading', { name: 'Every check has passed' })).toBeVisible()
  await expectAccessible(page)
})

async function rework(page: Page): Promise<void> {
  const form = page.getByRole('form', { name: 'Rework' })
  await form.getByLabel('What was wrong').fill('R4 was 100 Ω instead of 150 Ω')
  await form.getByLabel('What was changed to mend it').fill('R4 replaced')
  await form.getByLabel('Positions').fill('R4')
  await form.getByLabel('It was swapped for another').check()
  await form.getByRole('button', { name: 'Show what it undoes' }).click()
  await expect(form.getByText(/It undoes \d+ readings/)).toBeVisible()
  await form.getByRole('button', { name: 'Enter the rework' }).click()
  await expect(page.getByRole('form', { name: 'Reading of D15' })).toHaveCount(0)
}

test('3. the certificate is issued, signed, and opens as a page and a PDF', async ({ another, house }, info) => {
  const page = await another()
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/units/${TAG}`)
  await page.getByRole('button', { name: 'Issue the certificate' }).click()
  // The fault of D15 was mended and is still open: it is asked about before anything is signed.
  await page.getByRole('link', { name: 'Close it first', exact: true }).click()
  const close = page.getByRole('form', { name: 'Close the fault' })
  await expect(close.getByLabel('What was changed')).toHaveValue('R4 replaced')
  await close.getByLabel('Minutes it took').fill('15')
  await close.getByLabel('Which block it was in').selectOption('drivers')
  await close.getByRole('button', { name: 'Close the fault' }).click()
  await expect(page.getByText(`No fault of ${TAG} is open.`)).toBeVisible()
  await page.goto(`${house.url}/bench/units/${TAG}`)
  await page.getByRole('button', { name: 'Issue the certificate' }).click()
  const link = page.getByRole('link', { name: /TS-\d{4}-\d{4}-./ }).first()
  await expect(link).toBeVisible()
  const record = (await (await fetch(`${house.url}/units/${TAG}/record.json`)).json()) as { certificate: unknown }
  const path = /\/certificates\/[^"]+/.exec(JSON.stringify(record))?.[0] ?? ''
  await page.goto(house.url + path)
  await expect(page.getByText(TAG).first()).toBeVisible()
  await page.getByRole('button', { name: /Check the signature/ }).click()
  await expect(page.getByText(/signature (holds|fits|is good)/i).first()).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'certificate', info.project.name)
  const pdf = await fetch(`${house.url}${path}.pdf`)
  expect(pdf.headers.get('content-type')).toBe('application/pdf')
  expect(
    Buffer.from(await pdf.arrayBuffer())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-')
})

test('4. the maker prepares the lot; the gate says what is missing until it may open', async ({ another, house }) => {
  const page = await another()
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/lots`)
  await page.getByLabel('Unit').selectOption(TAG)
  await page.getByRole('button', { name: 'Start the lot' }).click()
  await page.waitForURL(new RegExp(`/bench/lots/${LOT}$`))
  await expect(page.getByText('There is no photograph. One is enough.')).toBeVisible()
  await expect(page.getByText('Set its closing.')).toBeVisible()
  await expect(page.getByRole('button', { name: /Open it for bidding/ })).toHaveCount(0)

  await page.getByLabel('Title').fill(TITLE)
  await page.getByLabel('Story').fill('Six figures in amber behind bent oak. Its displays came in the last parcel.')
  await page.getByLabel('Extras').fill('A spare fuse')
  await page.getByLabel('Opening price').fill('40')
  await page.getByLabel(/An amount below which it is not sold/).check()
  await page.getByLabel('The reserve').fill('60')
  await page.getByLabel('Weight, g').fill('1900')
  await page.getByLabel('Length, mm').fill('300')
  await page.getByLabel('Width, mm').fill('200')
  await page.getByLabel('Height, mm').fill('150')
  await page.getByRole('button', { name: 'Save the lot' }).click()
  await expect(page.getByRole('heading', { name: TITLE })).toBeVisible()

  await page
    .getByRole('form', { name: 'Add a photograph' })
    .locator('input[type=file]')
    .first()
    .setInputFiles({ name: 'clock.jpg', mimeType: 'image/jpeg', buffer: await drawPhotograph('tidemill', 2, 'front') })
  await expect(page.getByText('The photograph is kept.')).toBeVisible()
  await page.getByLabel('What it shows').fill('On the bench, in the evening')
  await page.getByRole('button', { name: 'Add the photograph' }).click()
  await expect(page.getByText('There is no photograph. One is enough.')).toHaveCount(0)

  await page.getByLabel('Line 1: how').fill('Everywhere')
  await page.getByRole('textbox', { name: 'Countries' }).first().fill('everywhere else')
  await page.getByRole('textbox', { name: 'Postage' }).first().fill('12')
  await page.getByRole('button', { name: 'Save the postage' }).click()
  await expect(page.getByText('Say where it can be sent and for how much.')).toHaveCount(0)
  await expectAccessible(page)

  await page.goto(`${house.url}/bench/programme`)
  await page.getByLabel('Which lot closes?').selectOption({ label: `Lot ${LOT}: ${TITLE}` })
  const at = new Date((await house.now()) + 85 * 60_000)
  const civil = new Intl.DateTimeFormat('sv-SE', { timeZone: 'Europe/London', dateStyle: 'short', timeStyle: 'short' })
  const parts = civil.format(at).split(' ')
  const [before = ''] = civil.format(at.getTime() - 2 * 86_400_000).split(' ')
  const plan = page.getByRole('form', { name: 'Put something in' })
  await plan.getByLabel('Day', { exact: true }).fill(before)
  await plan.getByLabel('Time in London').fill('00:01')
  await page.getByRole('button', { name: 'Put it in' }).click()
  await expect(page.getByText(/has passed|The stream runs from/).first()).toBeVisible()
  await plan.getByLabel('Day', { exact: true }).fill(parts[0] ?? '')
  await plan.getByLabel('Time in London').fill(parts[1] ?? '')
  await page.getByRole('button', { name: 'Put it in' }).click()
  await expect(page.getByRole('link', { name: `Lot ${LOT}: ${TITLE}` }).first()).toBeVisible()
  await expectAccessible(page)

  await page.goto(`${house.url}/bench/lots/${LOT}`)
  await page.getByRole('button', { name: /Open it for bidding/ }).click()
  await page.getByRole('button', { name: 'Open the lot' }).click()
  await expect(page.getByText('Open', { exact: true }).first()).toBeVisible()
})

/** Registers somebody from outside with the code from their mail. */
async function register(page: Page, house: RunningHouse, name: string, country: string): Promise<void> {
  const email = `${name.toLowerCase()}@stranger.example`
  await page.goto(`${house.url}/lots/${LOT}`)
  // The amount comes first; who is not signed in signs in with it, in the same place.
  await openBidding(page)
  await page.getByRole('button', { name: /^Bid up to/ }).click()
  await page.getByLabel('Your email address').fill(email)
  await page.getByRole('button', { name: 'Email me a code' }).click()
  await expect(page.getByLabel('The code from the email')).toBeVisible()
  const code = await codeShown(page)
  await page.getByLabel('The code from the email').fill(code === '000000' ? '000001' : '000000')
  await expect(page.getByText(/does not work/).first()).toBeVisible()
  await page.getByLabel('The code from the email').fill(code)
  await page.waitForURL(/\/paddle/)
  await page.getByLabel('Your name').fill(name)
  await page.getByLabel('Where we would send it').selectOption(country)
  await page.getByLabel('I have no connection with the sale').check()
  await page.getByRole('button', { name: 'Take a paddle' }).click()
  await expect(page.getByText(/tick that you accept/).first()).toBeVisible()
  await page.getByLabel(/I have read the rules/).check()
  await page.getByRole('button', { name: 'Take a paddle' }).click()
  await page.waitForURL(new RegExp(`/lots/${LOT}#bid$`))
}

async function bid(page: Page, amount: string): Promise<void> {
  await openBidding(page)
  const form = page.getByRole('form', { name: 'Bid' })
  await form.getByRole('radio', { name: 'Another' }).check()
  await form.getByLabel('Another amount').fill(amount)
  await form.getByRole('button', { name: /^Bid/ }).click()
}

test('5 and 6. two strangers register, bid against each other at once, a late bid extends, the lot closes by itself and both are told', async ({
  another,
  house,
}, info) => {
  test.setTimeout(150_000)
  const maker = await another()
  await stepInto(maker, house, 'Wilma Harrow')
  const one = await another()
  const two = await another()
  await register(one, house, 'Solveig', 'NO')
  await register(two, house, 'Caspian', 'FR')
  await expectAccessible(one)

  await bid(one, '50')
  await expect(one.getByText(/^Taken\. You lead at £40/)).toBeVisible()
  await expect(two.getByText(/leads at £40/).first()).toBeVisible()
  await bid(two, '1e308')
  await expect(two.getByText(/not an amount/).first()).toBeVisible()
  await bid(two, '41')
  await expect(two.getByText(/must be at least/).first()).toBeVisible()
  await bid(two, '95')
  await expect(two.getByText(/^Taken\. You lead/)).toBeVisible()
  await expect(one.getByText(/outbid/i).first()).toBeVisible()
  await expect(one.getByText(/leads at £60/).first()).toBeVisible()
  await shoot(one, 'lot', info.project.name, false)
  const host = await another()
  await stepInto(host, house, 'Jory Penn')
  await expect(host.getByText(/live$/)).toBeVisible()
  await expect(host.getByText(/^Lot 3: /).first()).toBeVisible()
  await shoot(host, 'host', info.project.name, false)

  // Ninety seconds before the closing: a bid now moves it.
  const { lots } = (await (await fetch(`${house.url}/lots.json`)).json()) as { lots: { number: number; closesAt: string }[] }
  const closesAt = Date.parse(lots.find(({ number }) => number === LOT)?.closesAt ?? '')
  await house.pass(closesAt - (await house.now()) - 90_000)
  await expect(one.getByText(/1 min|8\d s|7\d s/).first()).toBeVisible({ timeout: 15_000 })
  await bid(one, '80')
  await expect(two.getByText(/extended|moved/i).first()).toBeVisible()
  const after = (await (await fetch(`${house.url}/lots.json`)).json()) as typeof lots extends infer L ? { lots: L } : never
  expect(Date.parse(after.lots.find(({ number }) => number === LOT)?.closesAt ?? '')).toBeGreaterThan(closesAt)

  await house.pass(125_000)
  await expect(two.getByText(/You won it at £85/).first()).toBeVisible({ timeout: 15_000 })
  await expect(one.getByText('You did not win this one').first()).toBeVisible({ timeout: 15_000 })
  // Whoever lost is written to once what happened within three minutes is gathered.
  await house.pass(185_000)
  await expect(async () => {
    await maker.goto(`${house.url}/bench/outbox`)
    await expect(maker.getByRole('article').filter({ hasText: 'caspian@stranger.example' }).first()).toBeVisible({ timeout: 1000 })
    await expect(maker.getByRole('article').filter({ hasText: 'solveig@stranger.example' }).first()).toBeVisible({ timeout: 1000 })
  }).toPass({ timeout: 15_000 })
  await expect(maker.getByRole('article').filter({ hasText: 'caspian@stranger.example' }).first()).toContainText(
    new RegExp(`won|lot ${LOT}`, 'i'),
  )
  await expect(maker.getByRole('article').filter({ hasText: 'solveig@stranger.example' }).first()).toContainText(
    new RegExp(`lot ${LOT}`, 'i'),
  )
  await two.goto(`${house.url}/me`)
  await expect(two.getByText('Won', { exact: true })).toBeVisible()
  await expectAccessible(two)

  const treasurer = await another()
  await stepInto(treasurer, house, 'Edda Quill')
  const before = await proceeds(house)
  await treasurer.getByRole('link', { name: `Lot ${LOT}` }).click()
  await treasurer.getByRole('button', { name: 'Mark it paid' }).click()
  await expect(treasurer.getByRole('heading', { name: `Lot ${LOT} is paid` })).toBeVisible()
  const paid = await proceeds(house)
  expect(paid.paidMinor - before.paidMinor).toBe(8500)
  expect(before.wonMinor - paid.wonMinor).toBe(8500)
  await expectAccessible(treasurer)

  await treasurer.goto(`${house.url}/credits`)
  await expect(treasurer.getByText(/Ines Abreu/).first()).toBeVisible()
  await treasurer.goto(`${house.url}/lots/${LOT}`)
  await expect(treasurer.getByText(/Petra Vane/).first()).toBeVisible()
})

const proceeds = async (house: RunningHouse) =>
  (await (await fetch(`${house.url}/proceeds.json`)).json()) as {
    paidMinor: number
    wonMinor: number
    bidMinor: number
    targetMinor: number
  }

test('7. a viewer, signed in to nothing, sees lots, programme, records, credits and the target; the overlay shows the lot', async ({
  another,
  house,
}, info) => {
  const page = await another()
  for (const [path, words] of [
    ['/', /raised of £1,500/],
    ['/programme', /Programme/],
    [`/units/${TAG}`, /passed all 26 checks/i],
    ['/credits', /Ines Abreu/],
    ['/wanted', /Still wanted/],
    [`/lots/${LOT}/history`, /history/i],
  ] as const) {
    await page.goto(house.url + path)
    await expect(page.getByText(words).first()).toBeVisible()
    await expectAccessible(page)
  }
  await page.goto(`${house.url}/units/${TAG}`)
  await shoot(page, 'record', info.project.name, false)
  await page.goto(`${house.url}/lots/999`)
  await expect(page.getByRole('heading').first()).toBeVisible()
  await page.goto(`${house.url}/nowhere`)
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()

  const host = await another()
  await stepInto(host, house, 'Jory Penn')
  await expectAccessible(host)
  await host.getByRole('link', { name: 'Overlays' }).click()
  const address = host.getByRole('textbox', { name: 'Address of “price”' })
  await expect(address).toHaveValue(/#.{40}/)
  const key = new URL(await address.inputValue()).hash
  await page.goto(`${house.url}/air/overlay/price,meter${key}`)
  await expect(page.getByText(new RegExp(`Lot ${LOT}`, 'i')).first()).toBeVisible()
  await expect(page.getByText('Sold for £85')).toBeVisible()
  await expect(page.getByRole('meter')).toBeVisible()
  expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe('rgba(0, 0, 0, 0)')
  await page.goto('about:blank')
  await page.goto(`${house.url}/air/overlay/price,meter#wrong`)
  await expect(page.getByText('This overlay opens with its key')).toBeVisible()
  await expect(page.getByText(new RegExp(`Lot ${LOT}`, 'i'))).toHaveCount(0)
})
