import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from '@playwright/test'
import { parse } from 'csv-parse/sync'
import { expect } from './journey'
import { ROOT } from './prepare'

const DESIGNS = join(ROOT, 'seed', 'designs')

interface Row {
  step: string
  kind: string
  nominal: string
  lower: string
  upper: string
  hours: string
  starts: string
}

const rows: Row[] = parse(readFileSync(join(DESIGNS, 'tidemill-lc6-checklist.csv')), { columns: true })

/** The check that is at hand: its key, and whether it waits for a reading or to be released. */
export async function atHand(page: Page): Promise<{ check: string; does: 'read' | 'release' } | null> {
  const form = page.getByRole('form', { name: /^(Reading of|Release) / })
  const nothing = page.getByRole('heading', { name: /^(Every check has passed|Nothing can be taken now)$/ })
  await expect(form.or(nothing).first()).toBeVisible()
  // Read in one look: asking whether the form is there and then for its name would wait for a form that has just gone.
  const [name] = await form.evaluateAll((forms) => forms.map((one) => one.getAttribute('aria-label') ?? ''))
  if (name === undefined) return null
  const [, does = '', check = ''] = /^(Reading of|Release) (\w+)$/.exec(name) ?? []
  return { check, does: does === 'Release' ? 'release' : 'read' }
}

/** Waits until something else than this is at hand. */
export async function untilNext(page: Page, before: { check: string; does: string }): Promise<void> {
  await expect
    .poll(async () => {
      const now = await atHand(page)
      return now?.check === before.check && now?.does === before.does
    })
    .toBe(false)
}

/** Enters one reading as the maker does: type, Enter. */
export async function enter(page: Page, check: string, entry = usual(check)): Promise<void> {
  const row = rows.find(({ step }) => step === check)
  const form = page.getByRole('form', { name: `Reading of ${check}` })
  if (row?.kind === 'yesno') {
    await form.getByRole('button', { name: 'Yes' }).click()
    return
  }
  if (row?.kind === 'match') {
    await form.getByLabel('File that was read back').setInputFiles(join(DESIGNS, 'images', 'tidemill-lc6-controller.hex'))
    await expect(form.getByLabel('Its SHA-256')).toHaveValue(/^[0-9a-f]{64}$/)
    await form.getByRole('button', { name: 'Save the reading' }).click()
    return
  }
  const box = form.getByLabel(/^(On the meter|Count|Faults)/)
  await box.fill(entry)
  if (row?.kind === 'soak') {
    await form.getByLabel('It ran elsewhere').check()
    await form.getByLabel('Hours it ran').fill(row.hours)
    await form.getByLabel('Cold starts').fill(row.starts)
  }
  await box.press('Enter')
}

function usual(check: string): string {
  const row = rows.find(({ step }) => step === check)
  if (!row) throw new Error(`no check ${check}`)
  return row.nominal || row.lower || row.upper
}

/** Fits what may be fitted of one part, from the first batch or piece offered. */
export async function fitPart(page: Page, part: RegExp): Promise<void> {
  const sheet = page.getByRole('region', { name: /^Fit/ })
  const before = (await sheet.getByText(/positions are empty/).textContent()) ?? ''
  await sheet.locator('summary', { hasText: part }).click()
  await sheet.getByRole('form', { name: part }).getByRole('button', { name: 'Fit', exact: true }).click()
  await expect(sheet.getByText(before)).toHaveCount(0)
}
