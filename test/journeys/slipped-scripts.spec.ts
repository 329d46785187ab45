import { join } from 'node:path'
import Database from 'better-sqlite3'
import { PAYLOADS, RAN } from '#test/attacks/script-payloads'
import { expect, type RunningHouse, stepInto, test } from './journey'

// Past every check of what comes in, payloads stand in the database itself: no page that shows them runs any.

const PUBLIC = [
  ...['/', '/programme', '/credits', '/wanted', '/raised', '/pieces', '/lots/1', '/lots/1/history', '/lots/4', '/credits/lots/1'],
  ...['/units/TERN-01', '/units/TERN-01/home', '/credits/units/TERN-01', '/sign-in', '/yours'],
]
const STAFF = [
  ...['/bench', '/bench/units/TERN-01', '/bench/units/TERN-01/certificate', '/bench/parts', '/bench/lots', '/bench/lots/1'],
  ...['/bench/programme', '/bench/people', '/bench/outbox', '/bench/donors', '/bench/parcels', '/bench/designs', '/bench/campaign'],
  ...['/bench/money', '/bench/money/journal', '/bench/sending', '/bench/close-out', '/bench/close-out/donors', '/bench/video'],
  ...['/air/host', '/air/overlays', '/me/sessions', '/me/told'],
]

/**
 * Writes payloads into every text that people write. Which columns those are shows what stands there: words with a space
 * between them, and no JSON. What a column's own rule does not take stays as it was. Answers how many rows got one.
 */
function plant({ dataDir }: RunningHouse): { planted: Set<number>; columns: number } {
  const db = new Database(join(dataDir, 'tagstrip.db'))
  const tables = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'").pluck().all() as string[]
  // Chains, facts and certificates are fixed by triggers, as they should be; what they say is shown as well.
  for (const name of db.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").pluck().all() as string[])
    db.exec(`DROP TRIGGER "${name}"`)
  const planted = new Set<number>()
  let columns = 0
  let next = 0
  for (const table of tables)
    for (const { name, type } of db.prepare(`SELECT name, type FROM pragma_table_info('${table}')`).all() as {
      name: string
      type: string
    }[]) {
      if (type !== 'TEXT') continue
      const rows = db.prepare(`SELECT rowid AS id, "${name}" AS text FROM "${table}"`).all() as { id: number; text: string | null }[]
      if (!rows.some(({ text }) => text?.includes(' ') && !/^[[{"]/.test(text))) continue
      const put = db.prepare(`UPDATE "${table}" SET "${name}" = ? WHERE rowid = ?`)
      let took = 0
      for (const { id, text } of rows) {
        if (!text || /^[[{"]/.test(text)) continue
        const number = next++ % PAYLOADS.length
        try {
          // What stood there goes on after it, so that a text which is found by how it begins or ends is found.
          put.run(`${text.slice(0, 12)} ${PAYLOADS[number]}`, id)
          planted.add(number)
          took += 1
        } catch {
          // Too long for it, not unique or not one of its words.
        }
      }
      if (took > 0) columns += 1
    }
  db.close()
  return { planted, columns }
}

test('500 payloads in the texts of the house run on no page', async ({ page, house }, info) => {
  test.skip(info.project.name !== 'desktop', 'Pages are made alike for a phone.')
  test.slow()
  expect(new Set(PAYLOADS).size).toBe(500)
  // A maker steps in before names are payloads too.
  await stepInto(page, house, 'Wilma Harrow')
  const { planted, columns } = plant(house)
  expect(planted.size).toBe(500)
  expect(columns).toBeGreaterThan(30)

  const flaws: string[] = []
  let shown = 0
  page.on('dialog', (dialog) => {
    flaws.push(`${page.url()} opened a dialog`)
    void dialog.dismiss()
  })
  page.on('request', (request) => {
    if (!request.url().startsWith(house.url) && !request.url().startsWith('data:') && !request.url().startsWith('blob:'))
      flaws.push(`${page.url()} asked for ${request.url()}`)
  })
  for (const path of [...PUBLIC, ...STAFF]) {
    const answer = await page.goto(house.url + path)
    await page.waitForLoadState('networkidle').catch(() => {})
    const told = await page.evaluate((ran) => {
      const handlers = [...document.querySelectorAll('*')].flatMap((one) => [...one.attributes].filter(({ name }) => name.startsWith('on')))
      const links = [...document.querySelectorAll('a[href], form[action], [src]')].filter((one) =>
        /^\s*(java\s*script|data:text)/i.test(one.getAttribute('href') ?? one.getAttribute('action') ?? one.getAttribute('src') ?? ''),
      )
      return {
        ran: (globalThis as unknown as Record<string, unknown>)[ran],
        slipped: [...handlers.map(({ name }) => name), ...links.map(({ outerHTML }) => outerHTML.slice(0, 120))],
        foreign: document.querySelectorAll('iframe, object, embed, base, meta[http-equiv=refresh], math').length,
        shows: document.querySelector('main')?.textContent.includes(`${ran}=`),
      }
    }, RAN)
    if (told.ran !== undefined || told.slipped.length > 0 || told.foreign > 0) flaws.push(`${path}: ${JSON.stringify(told)}`)
    if ((answer?.status() ?? 500) >= 500) flaws.push(`${path}: ${answer?.status()}`)
    if (told.shows) shown += 1
  }
  expect(flaws).toEqual([])
  expect(shown, 'pages that show a payload, as text').toBeGreaterThan(15)
})
