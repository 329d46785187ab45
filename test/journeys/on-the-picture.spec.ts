import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Browser, Page, Request } from '@playwright/test'
import sharp from 'sharp'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import { shortHead } from '#sale/history/short-head.rules'
import { expect, expectAccessible, type RunningHouse, shoot, stepInto, test, watch } from './journey'

// One stream: its pictures before a closing, at it and after it. Each step begins where the one before it ended.
test.describe.configure({ mode: 'serial' })

prepareZXingModule({
  overrides: {
    wasmBinary: new Uint8Array(readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))).buffer,
  },
})

const LOT = 3
let host: Page
let key = ''
const errors: string[] = []

async function pictureOf(browser: Browser, house: RunningHouse, shows: string, asked: Request[] = []): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1920, height: 1080 } })
  const watched = await watch(context)
  watched.page.on('request', (request) => asked.push(request))
  await watched.page.goto(`${house.url}/air/overlay/${shows}${key}`)
  pictures.push({ page: watched.page, errors: watched.errors })
  return watched.page
}
const pictures: { page: Page; errors: string[] }[] = []

const codeIn = async (picture: Buffer): Promise<string> => {
  const { data, info } = await sharp(picture).ensureAlpha().raw().toBuffer({ resolveWithObject: true })
  const image = { data: new Uint8ClampedArray(data), width: info.width, height: info.height, colorSpace: 'srgb' }
  const [found] = await readBarcodes(image as ImageData, { formats: ['QRCode'] })
  return found?.text ?? ''
}

const headOf = async (house: RunningHouse) => {
  const frames = (await (await fetch(`${house.url}/api/trpc/bidding.frames`)).json()) as {
    result: { data: { lots: { number: number; state: string; headHash: string; ledgerSize: number; closesAt: number }[] } }
  }
  const found = frames.result.data.lots.find(({ number }) => number === LOT)
  if (!found) throw new Error('there is no such lot')
  return found
}

/** Every word that stands in the picture: how tall its capitals are, and how far from the edge, as per cent of the picture. */
const wordsIn = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('main p, main li, main b, main span')].flatMap((element) => {
      const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim())
      const box = element.getBoundingClientRect()
      if (!own || box.width < 2) return []
      const capital = (Number.parseFloat(getComputedStyle(element).fontSize) * 0.668 * 100) / innerHeight
      const edges = [(box.left / innerWidth) * 100, ((innerWidth - box.right) / innerWidth) * 100, (box.top / innerHeight) * 100]
      return [{ words: element.textContent ?? '', capital, edge: Math.min(...edges, ((innerHeight - box.bottom) / innerHeight) * 100) }]
    }),
  )

test.afterAll(async () => {
  for (const picture of pictures) {
    errors.push(...picture.errors)
    await picture.page.context().close()
  }
  await host?.context().close()
  expect(errors).toEqual([])
})

test('all overlays stand on one page with their addresses, drawn from one stream', async ({ browser, house }, info) => {
  const watched = await watch(await browser.newContext({ viewport: info.project.use.viewport ?? { width: 1280, height: 900 } }))
  host = watched.page
  await stepInto(host, house, 'Jory Penn')
  await host.goto(`${house.url}/air/overlays`)
  const address = host.getByRole('textbox', { name: 'Address of “price”' })
  await expect(address).toHaveValue(/#.{40}/)
  key = new URL(await address.inputValue()).hash
  await expect(host.getByText('Ines Abreu').first()).toBeVisible()
  await host.getByLabel('Show result and hold as they would look').check()
  await expect(host.getByText('All clocks are stopped')).toBeVisible()
  await expect(host.getByText(/Sold for/)).toBeVisible()
  await host.getByLabel('Second zone of the next lots').fill('Nowhere/Land')
  await expect(host.getByText('That is not a time zone')).toBeVisible()
  await host.getByLabel('Second zone of the next lots').fill('Asia/Tokyo')
  await expect(host.getByRole('textbox', { name: 'Address of “next”' })).toHaveValue(/\?zone=Asia%2FTokyo#/)
  await expectAccessible(host)
  await shoot(host, 'overlays', info.project.name)
  expect(watched.errors).toEqual([])
})

test('before the close: price, time left and the house’s clock, tall enough for a phone, and the key stands in no request', async ({
  browser,
  house,
}, info) => {
  const asked: Request[] = []
  const page = await pictureOf(browser, house, 'price,meter,next,cause,clock', asked)
  await expect(page.getByText(`Lot ${LOT} · TERN-02`)).toBeVisible()
  await expect(page.getByRole('timer')).toHaveText(/^\d:\d\d$/)
  await expect(page.getByRole('meter')).toBeVisible()
  await expect(page.getByText(/goes to Ferry Lane Repair School/)).toBeVisible()
  await expect(page.getByText(/^\d\d:\d\d:\d\d\.\d$/)).toBeVisible()
  expect(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor)).toBe('rgba(0, 0, 0, 0)')
  const words = await wordsIn(page)
  expect(words.length).toBeGreaterThan(12)
  expect(words.filter(({ capital }) => capital < 2.4)).toEqual([])
  expect(words.filter(({ edge }) => edge < 4.99)).toEqual([])
  // The clock in the picture is the house's.
  const [shown, now] = [(await page.getByText(/^\d\d:\d\d:\d\d\.\d$/).textContent()) ?? '', await house.now()]
  const [hours = 0, minutes = 0, seconds = 0] = shown.split(':').map(Number)
  const late = (((now / 1000) % 3600) - (minutes * 60 + seconds) + 3600) % 3600
  expect(Math.min(late, 3600 - late)).toBeLessThan(10)
  expect(hours).toBeLessThan(24)
  await shoot(page, 'picture-before', info.project.name, false)
  const secret = key.slice(1)
  const told = await Promise.all(asked.map(async (request) => `${request.url()} ${JSON.stringify(await request.allHeaders())}`))
  expect(told.length).toBeGreaterThan(3)
  expect(told.filter((one) => one.includes(secret))).toEqual([])
})

test('names are those who agree; who takes that back vanishes', async ({ browser, house }, info) => {
  const page = await pictureOf(browser, house, 'names')
  await expect(page.getByText('Ines Abreu')).toBeVisible()
  await shoot(page, 'picture-names', info.project.name, false)
  const context = await browser.newContext()
  const maker = (await watch(context)).page
  await stepInto(maker, house, 'Wilma Harrow')
  const list = await (await maker.request.get(`${house.url}/api/trpc/donors.list`)).json()
  const { id } = list.result.data.donors.find(({ name }: { name: string }) => name === 'Ines Abreu')
  const taken = await maker.request.post(`${house.url}/api/trpc/donors.consent`, {
    data: { donorId: id, use: 'stream', given: false },
    headers: { origin: house.url },
  })
  expect(taken.ok()).toBe(true)
  await expect(page.getByText('Ines Abreu')).toHaveCount(0)
  await expect(page.getByText('Petra Vane')).toBeVisible()
  await context.close()
})

test('a hold shows the clock stopped with its reason, and goes with the hold', async ({ browser, house }, info) => {
  const page = await pictureOf(browser, house, 'hold,price')
  await expect(page.getByRole('timer')).toBeVisible()
  const post = (verb: string, data?: object) =>
    host.request.post(`${house.url}/api/trpc/programme.${verb}`, {
      ...(data && { data }),
      headers: { origin: house.url, 'content-type': 'application/json' },
    })
  expect((await post('holdAll', { reason: 'The stream is down.' })).ok()).toBe(true)
  await expect(page.getByText('All clocks are stopped')).toBeVisible()
  await expect(page.getByText('The stream is down.')).toBeVisible()
  await expect(page.getByText('clock stopped')).toBeVisible()
  const stopped = await page.getByRole('timer').textContent()
  await house.pass(30_000)
  await shoot(page, 'picture-hold', info.project.name, false)
  await expect(page.getByRole('timer')).toHaveText(stopped ?? '')
  expect((await post('resumeAll')).ok()).toBe(true)
  await expect(page.getByText('All clocks are stopped')).toHaveCount(0)
})

test('at the close the result fills the picture, with the head of the history in print and as a code that leads to it', async ({
  browser,
  house,
}, info) => {
  const page = await pictureOf(browser, house, 'result')
  const clock = await pictureOf(browser, house, 'clock')
  await expect(clock.getByText(/^\d\d:\d\d:\d\d\.\d$/)).toBeVisible()
  await expect(page.locator('main p')).toHaveCount(0)
  const { closesAt } = await headOf(house)
  await house.pass(closesAt - (await house.now()) + 1000)
  await expect(page.getByText(/^Sold for £165/)).toBeVisible()
  const { headHash, ledgerSize, state } = await headOf(house)
  expect(state).toBe('sold')
  await expect(page.getByText(shortHead(headHash))).toBeVisible()
  await shoot(page, 'picture-result', info.project.name, false)
  const address = await codeIn(await page.screenshot())
  expect(address).toBe(`${house.url}/lots/${LOT}/history#head=${ledgerSize}-${headHash}`)
  await expect(clock.getByText(shortHead(headHash))).toBeVisible()
  expect(await codeIn(await clock.screenshot())).toBe(address)
  // As a phone would see it that films a small screen.
  expect(
    await codeIn(
      await sharp(await page.screenshot())
        .resize(960)
        .jpeg({ quality: 60 })
        .toBuffer(),
    ),
  ).toBe(address)

  const reader = (await watch(await browser.newContext())).page
  await reader.goto(address)
  await expect(reader.getByText(`The head in the picture, ${shortHead(headHash)}, is in this history`)).toBeVisible()
  await reader.goto('about:blank')
  await reader.goto(address.replace(headHash, 'ab'.repeat(32)))
  await expect(reader.getByText(/is not in this history/)).toBeVisible()
  await reader.context().close()
})

test('with another key every overlay that is open goes dark', async () => {
  const [first, last] = [pictures[0]?.page, pictures.at(-1)?.page]
  if (!first || !last) throw new Error('no overlay is open')
  await expect(last.locator('main p').first()).toBeVisible()
  await host.reload()
  await host.getByRole('button', { name: 'New key…' }).click()
  await host.getByRole('dialog').getByRole('button', { name: 'Make it' }).click()
  for (const { page } of pictures) await expect(page.locator('main').getByRole('heading')).toHaveCount(0)
  await expect(host.getByRole('textbox', { name: 'Address of “price”' })).not.toHaveValue(new RegExp(key.slice(1)))
  await first.reload()
  await expect(first.getByText('This overlay opens with its key')).toBeVisible()
})

test('a watcher measures how late the picture is, and the bid page says so with every countdown', async ({
  watched: page,
  house,
}, info) => {
  const { lots } = (await (await fetch(`${house.url}/lots.json`)).json()) as {
    lots: { number: number; state: string; soldWhere: string; closesAt: string }[]
  }
  // The first of those that are still to close here; it has five minutes left.
  const next = lots
    .filter(({ state, soldWhere }) => state === 'open' && soldWhere === 'here')
    .sort((a, b) => a.closesAt.localeCompare(b.closesAt))[0]
  if (!next) throw new Error('nothing is left to close')
  await house.pass(Date.parse(next.closesAt) - (await house.now()) - 5 * 60_000)
  await page.goto(`${house.url}/lots/${next.number}`)
  await page.getByText('Watching the stream? Measure how late your picture is').click()
  const field = page.getByLabel('Time in the picture')
  await expect(field).toHaveValue(/^\d\d:\d\d:\d\d$/)
  const wall = (at: number) => new Date(at).toLocaleTimeString('en-GB', { timeZone: 'Europe/London', hourCycle: 'h23' })
  await field.fill(wall((await house.now()) + 60_000))
  await page.getByRole('button', { name: 'It shows it now' }).click()
  await expect(page.getByText(/The picture cannot show .* yet/)).toBeVisible()
  for (let tap = 0; tap < 3; tap += 1) {
    await field.fill(wall((await house.now()) - 40_000))
    await page.getByRole('button', { name: 'It shows it now' }).click()
    await expect(page.getByText(/^Saved[.:]/)).toBeVisible()
  }
  // A slow machine taps late, and a second tells only its beginning.
  await expect(page.getByText(/Your picture is 4\d s late: when it says one minute, \d+ s are left\./)).toBeVisible()
  await expect(page.getByText(/your picture still shows [4-6]:\d\d/)).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'picture-delay', info.project.name, false)
  await page.goto(`${house.url}/programme`)
  await expect(page.getByText(/your picture still shows/).first()).toBeVisible()
  await expect(page.getByRole('heading', { name: 'Results and changes' })).toBeVisible()
  await expectAccessible(page)
  await page.reload()
  await page.goto(`${house.url}/lots/${next.number}`)
  await page.getByText('Measure how late your picture is again').click()
  await page.getByRole('button', { name: 'Forget it' }).click()
  await expect(page.getByText(/Your picture is/)).toHaveCount(0)
})
