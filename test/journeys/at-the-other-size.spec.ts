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
