import { expect, expectAccessible, stepInto, test } from './journey'

// A journey that is taken at one size alone (playwright.config.ts says which) has its pages looked at here at the other.

const ONLY_ON_A_DESK: Record<string, readonly string[]> = {
  'Edda Quill': ['/bench/money', '/bench/money/2', '/bench/money/in', '/bench/money/out', '/bench/money/journal', '/bench/money/pictures'],
  'Wilma Harrow': [
    ...['/bench/close-out', '/bench/close-out/statement', '/bench/close-out/donors', '/bench/close-out/packs', '/bench/close-out/contacts'],
    ...['/bench/designs', '/bench/programme', '/bench/rehearsal', '/air/host', '/air/overlays'],
  ],
}
const ONLY_ON_A_PHONE: Record<string, readonly string[]> = {
  'Wilma Harrow': [
    '/bench/parcels/new',
    '/bench/parcels',
    '/bench/scan',
    '/bench/donors',
    '/bench/parts',
    '/bench/parts/build',
    '/bench/outbox',
  ],
}

test('pages of journeys that are taken at the other size are accessible and fit the screen', async ({ watched: page, house }, info) => {
  for (const [name, paths] of Object.entries(info.project.name === 'phone' ? ONLY_ON_A_DESK : ONLY_ON_A_PHONE)) {
    await stepInto(page, house, name)
    for (const path of paths) {
      expect((await page.goto(house.url + path))?.status(), path).toBe(200)
      await expectAccessible(page)
    }
  }
})

const WHERE_TAGS_STAND = [
  '/bench',
  '/bench/hours',
  '/bench/parcels',
  '/bench/parts',
  '/bench/parts/build',
  '/bench/lots',
  '/bench/units/PIPIT-02/pick',
]

test('on a phone no tag breaks at its hyphen', async ({ watched: page, house }) => {
  await page.setViewportSize({ width: 390, height: 844 })
  await stepInto(page, house, 'Wilma Harrow')
  for (const path of WHERE_TAGS_STAND) {
    expect((await page.goto(house.url + path))?.status(), path).toBe(200)
    const broken = await page.evaluate(() => {
      const found: string[] = []
      const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
      for (let node = texts.nextNode(); node; node = texts.nextNode()) {
        for (const tag of (node.nodeValue ?? '').matchAll(/\b[A-Z]{1,6}-\d{2,4}\b/g)) {
          const range = document.createRange()
          range.setStart(node, tag.index)
          range.setEnd(node, tag.index + tag[0].length)
          const lines = new Set([...range.getClientRects()].filter(({ width }) => width > 1).map(({ top }) => Math.round(top)))
          if (lines.size > 1) found.push(tag[0])
        }
      }
      return found
    })
    expect(broken, path).toEqual([])
  }
})
