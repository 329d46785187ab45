import type { Page } from '@playwright/test'
import { expect, stepInto, test } from './journey'

// Pages run the house's own scripts alone: no policy is broken by any of them. Each that runs carries the word of its own answer, or
// is one of those whose hashes a page names that is the same for everybody.

const PUBLIC = [
  ...['/', '/programme', '/credits', '/wanted', '/raised', '/pieces', '/check', '/sign-in', '/first', '/yours', '/paddle', '/demo', '/me'],
  ...['/rehearsal', '/lots/1', '/lots/1/history', '/credits/lots/1', '/units/TERN-01', '/units/TERN-01/home', '/credits/units/TERN-01'],
  ...['/nothing/hangs/here', '/lots/9999', '/air/overlay/price,meter#no-key', '/certificates/TS-1999-0001-A'],
]
const STAFF = [
  ...['/bench', '/bench/scan', '/bench/units/TERN-01', '/bench/parts', '/bench/lots', '/bench/programme', '/bench/people', '/bench/outbox'],
  ...['/bench/money', '/bench/money/pictures', '/bench/close-out', '/bench/parcels/new', '/bench/video', '/air/host', '/air/overlays'],
  ...['/me/sessions', '/me/told', '/bench/designs', '/bench/rehearsal'],
]

/** The same for everybody who is not signed in: these are kept. */
const KEPT = [
  '/',
  '/programme',
  '/credits',
  '/raised',
  '/check',
  '/lots/1',
  '/lots/1/history',
  '/credits/lots/1',
  '/units/TERN-01',
  '/credits/units/TERN-01',
]

/** Where such a page would stand, and there is none: told to everybody alike, and kept by nobody. */
const NOT_THERE = ['/lots/9999', '/certificates/TS-1999-0001-A']

/** What the browser was kept from, over all pages that this one opens. */
async function violationsOf(page: Page): Promise<string[]> {
  const heard: string[] = []
  await page.exposeFunction('tellViolation', (told: string) => heard.push(told))
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', ({ effectiveDirective, blockedURI, sourceFile, lineNumber }) => {
      void (globalThis as unknown as { tellViolation(told: string): void }).tellViolation(
        `${location.pathname}: ${effectiveDirective} kept out ${blockedURI} (${sourceFile}:${lineNumber})`,
      )
    })
  })
  return heard
}

/** Hashes of the scripts that stand in a page, as a policy names them. */
const hashesIn = (page: Page) =>
  page.evaluate(async () =>
    Promise.all(
      [...document.scripts]
        .filter(({ src, type }) => !src && !type.includes('json'))
        .map(async ({ textContent }) => {
          const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(textContent ?? ''))
          return `'sha256-${btoa(String.fromCharCode(...new Uint8Array(digest)))}'`
        }),
    ),
  )

async function visit(page: Page, url: string, paths: readonly string[], kept: readonly string[] = []): Promise<void> {
  for (const path of paths) {
    const answer = await page.goto(url + path)
    await page.waitForLoadState('networkidle').catch(() => {})
    const headers = (await answer?.allHeaders()) ?? {}
    const policy = headers['content-security-policy'] ?? ''
    if (kept.includes(path) || NOT_THERE.includes(path)) {
      expect(headers['cache-control'], path).toBe(kept.includes(path) ? 'public, max-age=0, s-maxage=1, must-revalidate' : 'no-store')
      expect(headers.vary, path).toContain('Cookie')
      expect(policy, path).not.toContain('nonce')
      const named = /script-src ([^;]*)/.exec(policy)?.[1]?.split(' ') ?? []
      for (const hash of await hashesIn(page)) expect(named, path).toContain(hash)
      if (NOT_THERE.includes(path)) expect(await answer?.text(), path).toContain('Nothing hangs here</h1>')
      continue
    }
    expect(headers['cache-control'], `${path} is kept by nothing between the house and its reader`).toMatch(/no-store/)
    const nonce = /script-src [^;]*'nonce-([^']+)'/.exec(policy)?.[1]
    expect(nonce, path).toBeTruthy()
    const strange = await page.evaluate(
      (word) =>
        [...document.scripts]
          .filter(({ src, type, nonce }) => !src && nonce !== word && !type.includes('json'))
          .map(({ textContent }) => textContent?.slice(0, 80)),
      nonce,
    )
    expect(strange, `scripts of ${path} without its word`).toEqual([])
  }
}

test('no page of the house asks for what its policy forbids', async ({ watched: page, house }, info) => {
  test.skip(info.project.name !== 'desktop', 'The policy is the same on a phone.')
  test.slow()
  const heard = await violationsOf(page)
  await visit(page, house.url, PUBLIC, KEPT)
  await stepInto(page, house, 'Wilma Harrow')
  // The same pages are made for whoever is signed in, and kept by nobody.
  await visit(page, house.url, [...STAFF, ...KEPT])
  expect(heard).toEqual([])
})

test('a script, a handler or a style that somebody slipped into a page does nothing', async ({ page, house }, info) => {
  test.skip(info.project.name !== 'desktop', 'The policy is the same on a phone.')
  const heard = await violationsOf(page)
  await page.goto(house.url)
  await page.evaluate(() => {
    const slipped = document.createElement('div')
    slipped.innerHTML =
      '<img src="data:," onerror="window.ran=1"><style>body{opacity:.5}</style><iframe srcdoc="<script>parent.ran=1</script>"></iframe>'
    document.body.append(slipped)
    const script = document.createElement('script')
    script.textContent = 'window.ran = 1'
    document.body.append(script)
    const link = document.createElement('a')
    link.href = 'javascript:window.ran=1'
    document.body.append(link)
    link.click()
  })
  await expect.poll(() => heard.length).toBeGreaterThanOrEqual(4)
  expect(await page.evaluate(() => (globalThis as unknown as { ran?: number }).ran)).toBeUndefined()
  expect(await page.evaluate(() => getComputedStyle(document.body).opacity)).toBe('1')
})
