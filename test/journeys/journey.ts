import { type ChildProcess, spawn } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import AxeBuilder from '@axe-core/playwright'
import { type BrowserContext, test as base, expect, type Page } from '@playwright/test'
import { ROOT, TEMPLATE, TOLD_AT } from './prepare'
import { noteReached } from './reached'

export interface RunningHouse {
  url: string
  dataDir: string
  /** The house's clock, which began when the story had been told. */
  now(): Promise<number>
  /** Moves it on. */
  pass(milliseconds: number): Promise<void>
  stop(): Promise<void>
}

const SHOTS = join(ROOT, 'test-results', 'screenshots')

/** Two free ports in a row: the house's and its clock's. */
async function freePort(): Promise<number> {
  for (let tries = 0; tries < 50; tries++) {
    const port = 20_000 + Math.floor(Math.random() * 20_000)
    if ((await isFree(port)) && (await isFree(port + 1))) return port
  }
  throw new Error('no free ports')
}

const isFree = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const probe = createServer()
    probe.once('error', () => resolve(false))
    probe.listen(port, '0.0.0.0', () => probe.close(() => resolve(true)))
  })

/** Opens a house on a copy of the told story, or on a data folder that is there already. */
export async function openRunningHouse(from: string = TEMPLATE, beginsAt?: number): Promise<RunningHouse> {
  const dataDir = mkdtempSync(join(tmpdir(), 'tagstrip-journey-'))
  cpSync(from, dataDir, { recursive: true })
  const port = await freePort()
  const url = `http://localhost:${port}`
  const child: ChildProcess = spawn(process.execPath, ['dist/journey-house.mjs'], {
    cwd: ROOT,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: {
      ...process.env,
      NODE_ENV: 'production',
      PORT: String(port),
      PUBLIC_URL: url,
      DATA_DIR: dataDir,
      DEMO: '1',
      LOG_LEVEL: 'warn',
      BEGINS_AT: beginsAt === undefined ? readFileSync(TOLD_AT, 'utf8') : String(beginsAt),
    },
  })
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  for (let tries = 0; ; tries++) {
    const answer = await fetch(`${url}/api/health`).catch(() => null)
    if (answer?.ok) break
    if (tries > 300) throw new Error('the house did not open')
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  return {
    url,
    dataDir,
    now: async () => Number(await (await fetch(`http://127.0.0.1:${port + 1}/now`)).text()),
    pass: async (milliseconds) => {
      await fetch(`http://127.0.0.1:${port + 1}/pass?ms=${milliseconds}`, { method: 'POST' })
    },
    stop: async () => {
      child.kill('SIGTERM')
      await gone
      rmSync(dataDir, { recursive: true, force: true })
    },
  }
}

interface Fixtures {
  /** One for each file of journeys, whose steps build on each other; another file's steps never touch it. */
  house: RunningHouse
  /** A page that fails the test on any console error or page error. */
  watched: Page
  /** A further browser of somebody's own, watched as well and closed with the test. */
  another(): Promise<Page>
}

interface WorkerFixtures {
  opened: { file: string; house: RunningHouse | null }
}

export const test = base.extend<Fixtures, WorkerFixtures>({
  opened: [
    // biome-ignore lint/correctness/noEmptyPattern: the test runner reads the names of what is asked for
    async ({}, use) => {
      const opened: WorkerFixtures['opened'] = { file: '', house: null }
      await use(opened)
      await opened.house?.stop()
    },
    { scope: 'worker' },
  ],
  house: async ({ opened }, use, { file }) => {
    if (opened.file !== file) {
      await opened.house?.stop()
      opened.house = await openRunningHouse()
      opened.file = file
    }
    if (!opened.house) throw new Error('the house did not open')
    await use(opened.house)
  },
  watched: async ({ context }, use, { file }) => {
    const page = await watch(context)
    noteReached(context, file)
    await use(page.page)
    expect(page.errors).toEqual([])
  },
  another: async ({ browser }, use, { project, file }) => {
    const opened: { context: BrowserContext; errors: string[] }[] = []
    await use(async () => {
      const context = await browser.newContext({ ...(project.use as object) })
      const { page, errors } = await watch(context)
      noteReached(context, file)
      opened.push({ context, errors })
      return page
    })
    for (const { context } of opened) await context.close()
    expect(opened.flatMap(({ errors }) => errors)).toEqual([])
  },
})

export { expect }

/** What the browser logs of a request that was refused on purpose, or made while a journey had the network off. */
const ON_PURPOSE = /the server responded with a status of 4\d\d|ERR_INTERNET_DISCONNECTED/

/** A page and what its console complained of. */
export async function watch(context: BrowserContext): Promise<{ page: Page; errors: string[] }> {
  const page = await context.newPage()
  const errors: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error' && !ON_PURPOSE.test(message.text())) errors.push(message.text())
  })
  page.on('pageerror', (error) => errors.push(String(error)))
  return { page, errors }
}

/** Steps into a demo role and lands on its first page. */
export async function stepInto(page: Page, house: RunningHouse, name: string): Promise<void> {
  await page.goto(`${house.url}/demo`)
  await page.getByRole('button', { name }).click()
  await page.waitForURL((url) => url.pathname !== '/demo')
}

/** The code that a demo shows where it was asked for. */
export const codeShown = async (page: Page): Promise<string> =>
  /\d{6}/.exec((await page.getByText(/This is a demo, so no email is sent/).textContent()) ?? '')?.[0] ?? 'no code'

/** On a phone the form is opened by the strip at the foot of the page. */
export async function openBidding(page: Page): Promise<void> {
  const strip = page.getByRole('link', { name: /^(Bid|Raise)$/ })
  if (await strip.isVisible()) await strip.click()
  const amount = page.getByRole('button', { name: 'Choose an amount' })
  if (await amount.isVisible()) await amount.click()
}

/** Axe finds nothing, and the page is not wider than the screen. */
export async function expectAccessible(page: Page): Promise<void> {
  // The title of a page that was gone to comes a moment after its content.
  await expect(page).toHaveTitle(/./)
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' | ')}`)).toEqual([])
  const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  expect(overflow, 'the page scrolls sideways').toBeLessThanOrEqual(0)
}

/** Keeps a picture of the page under the size's name. */
export async function shoot(page: Page, name: string, project: string, fullPage = true): Promise<void> {
  mkdirSync(SHOTS, { recursive: true })
  if (!fullPage) await page.evaluate(() => window.scrollTo(0, 0))
  await page.screenshot({ path: join(SHOTS, `${name}-${project}.png`), fullPage, animations: 'disabled' })
}
