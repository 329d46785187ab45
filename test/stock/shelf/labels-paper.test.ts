import { describe, expect, test } from 'vitest'
import { LABEL_PAPERS, LABEL_SIZES, labelsOnSheet, moduleDots, placeOnSheet, sheetPlan } from '#paper/sheet.rules'
import { type LabelsOrder, labelsOrder, setLabels } from '#stock/shelf/labels-paper'
import { codesOf, openPdf, pagesOf, scanBars } from '#test/paper/read-pdf'

const label = (n: number) => ({
  code: `https://longbench.example/bench/pieces/P-${String(n).padStart(4, '0')}`,
  tag: `P-${String(n).padStart(4, '0')}`,
  lines: ['KBC-64 keyboard controller', 'good, image known', 'batch B-12 · given'],
})
const order = (parts: Partial<LabelsOrder> = {}): LabelsOrder =>
  labelsOrder({
    paper: 'a4',
    size: 'piece',
    labels: [1, 2, 3].map(label),
    title: 'Labels for pieces',
    author: 'Long Bench',
    at: Date.UTC(2027, 2, 11),
    ...parts,
  })

const DOT_POINTS = 72 / 203

describe.each(LABEL_SIZES)('labels for a %s', (size) => {
  test.each(LABEL_PAPERS)('on %s: every code is read at 203 dpi, and each bar of it is whole dots', async (paper) => {
    const pdf = await openPdf(await setLabels(order({ size, paper })))
    const codes = (await Promise.all(Array.from({ length: pdf.numPages }, (_, page) => codesOf(pdf, page + 1)))).flat()
    expect(codes).toHaveLength(3)
    for (const [index, bars] of codes.entries()) {
      expect((await scanBars(bars, 203)).text).toBe(label(index + 1).code)
      for (const [left, bottom, right, top] of bars) {
        for (const length of [right - left, top - bottom]) expect(length / DOT_POINTS).toBeCloseTo(Math.round(length / DOT_POINTS), 2)
        expect(left / DOT_POINTS).toBeCloseTo(Math.round(left / DOT_POINTS), 2)
      }
    }
  })

  test.each(LABEL_PAPERS)('on %s: all of them lie on the sheet, and none over another', (paper) => {
    const plan = sheetPlan(paper, size)
    const places = Array.from({ length: labelsOnSheet(paper, size) }, (_, index) => placeOnSheet(plan, index, 0))
    for (const { x, y } of places) {
      expect(Math.min(x, y)).toBeGreaterThanOrEqual(0)
      expect(x + plan.label.width).toBeLessThanOrEqual(plan.page.width + 0.01)
      expect(y + plan.label.height).toBeLessThanOrEqual(plan.page.height + 0.01)
    }
    expect(plan.pitch.x).toBeGreaterThanOrEqual(plan.label.width)
    expect(plan.pitch.y).toBeGreaterThanOrEqual(plan.label.height)
    expect(new Set(places.map(({ x, y }) => `${x} ${y}`)).size).toBe(places.length)
  })
})

test('a label says its tag and its lines, and what is read out for its code', async () => {
  const pdf = await openPdf(await setLabels(order()))
  const words = (await pagesOf(pdf)).join('\n')
  for (const phrase of ['P-0001', 'P-0003', 'keyboard controller', 'good, image known'])
    expect(words.replaceAll(/\s+/g, ' ')).toContain(phrase)
  expect((await pdf.getMetadata()).info).toMatchObject({ Title: 'Labels for pieces', Language: 'en-GB' })
  expect(JSON.stringify(await (await pdf.getPage(1)).getStructTree())).toContain(`QR code: ${label(1).code}`)
})

test('a long tag is set smaller and stays on its label; what there is no room for is left out', async () => {
  const long = { code: label(1).code, tag: 'SALTMARSH-RECEIVER-0003', lines: Array.from({ length: 12 }, (_, n) => `line ${n}`) }
  const pdf = await openPdf(await setLabels(order({ labels: [long], paper: 'roll' })))
  const { items } = await (await pdf.getPage(1)).getTextContent()
  const { width, height } = sheetPlan('roll', 'piece').page
  const points = 72 / 25.4
  for (const item of items) {
    if (!('str' in item) || item.str.trim() === '') continue
    expect(item.transform[4] + item.width).toBeLessThanOrEqual(width * points)
    expect(item.transform[5]).toBeGreaterThan(0)
    expect(item.transform[5]).toBeLessThan(height * points)
  }
  const words = items.map((item) => ('str' in item ? item.str : '')).join('')
  expect(words).toContain('SALTMARSH-RECEIVER-0003')
  expect(words).toContain('line 0')
  expect(words).not.toContain('line 11')
})

test('labels begin after the places that are used up, and go on over the sheets', async () => {
  const pdf = await openPdf(await setLabels(order({ skip: 64, labels: [1, 2].map(label) })))
  expect(pdf.numPages).toBe(2)
  expect(await codesOf(pdf, 1)).toHaveLength(1)
  expect(await codesOf(pdf, 2)).toHaveLength(1)
})

test('the same labels give the same bytes', async () => {
  expect((await setLabels(order())).equals(await setLabels(order()))).toBe(true)
})

test.each([
  ['no label at all', { labels: [] }, /There are no labels to print/],
  ['more gone than a sheet has', { skip: 65 }, /from 0 to 64/],
  ['a code too long for it', { labels: [{ ...label(1), code: `https://longbench.example/${'a'.repeat(400)}` }] }, /Choose a larger one/],
])('%s is refused in words', (_what, parts, words) => {
  expect(() => order(parts)).toThrow(words)
})

test('a module is four dots where there is room, two at least', () => {
  expect(moduleDots(37, 30)).toBe(4)
  expect(moduleDots(37, 37 * 2 * (25.4 / 203))).toBe(2)
  expect(() => moduleDots(37, 37 * 2 * (25.4 / 203) - 0.01)).toThrow(/larger one/)
})
