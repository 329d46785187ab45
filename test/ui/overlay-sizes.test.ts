import { readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import PDFDocument from 'pdfkit'
import { describe, expect, test } from 'vitest'
import { LEAST_CAPITAL, SAFE_EDGE, TYPE_SHARES, type TypeSize } from '#app/(air)/air/overlay/sizes.rules.ts'
import { unpackWoff } from '#paper/woff'

const folder = `${import.meta.dirname}/../../app/(air)/air/overlay`
const sheet = readdirSync(folder)
  .filter((name) => name.endsWith('.css'))
  .map((name) => readFileSync(`${folder}/${name}`, 'utf8'))
  .join('\n')
const find = createRequire(import.meta.url)

/** Height of a capital as a share of the type size, as the font itself says. */
function capitalOf(file: string): number {
  const doc = new PDFDocument({ autoFirstPage: false })
  doc.registerFont('one', unpackWoff(readFileSync(find.resolve(`@fontsource/${file}`)))).font('one')
  const { capHeight, unitsPerEm } = (doc as unknown as { _font: { font: { capHeight: number; unitsPerEm: number } } })._font.font
  return capHeight / unitsPerEm
}
const capital = Math.min(
  capitalOf('atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff'),
  capitalOf('atkinson-hyperlegible-mono/files/atkinson-hyperlegible-mono-latin-600-normal.woff'),
)

describe('read on a phone', () => {
  test.each(Object.keys(TYPE_SHARES) as TypeSize[])('a capital of the %s is as tall as it must be', (size) => {
    expect(TYPE_SHARES[size] * capital).toBeGreaterThanOrEqual(LEAST_CAPITAL[size])
  })

  test('the least is 16 minutes of arc at 35 cm, on a picture of 38.3 mm upright and 69 mm turned', () => {
    const least = 350 * Math.tan(((16 / 60) * Math.PI) / 180)
    expect((least / 38.3) * 100).toBeLessThanOrEqual(LEAST_CAPITAL.main + 0.06)
    expect((least / 69) * 100).toBeLessThanOrEqual(LEAST_CAPITAL.text)
  })

  test('no piece sets type of a size of its own', () => {
    const sizes = [...sheet.matchAll(/font-size:\s*([^;]+);/g)].map(([, size]) => size)
    expect(sizes.length).toBeGreaterThan(4)
    // The last is what somebody at a desk reads who opened it without a key; it never stands in a picture.
    const known = ['var(--figure)', 'var(--main)', 'var(--words)', 'clamp(1rem, 3vw, 2.4rem)']
    expect(sizes.filter((size) => !known.includes(size ?? ''))).toEqual([])
  })
})

test('five per cent are left free on every side', () => {
  expect(SAFE_EDGE).toBe(5)
  expect(sheet).toMatch(/\.places \{[^}]*inset: var\(--safe\)/)
  expect(sheet).toMatch(/\.result \{[^}]*padding: var\(--safe\)/)
})

test('every ground under words is one of the grounds whose contrast is tested, and lets nothing through', () => {
  const grounds = [...sheet.matchAll(/\.(plate|tag|result|shut) \{[^}]*?background: ([^;]+);/g)].map(([, piece, ground]) => [piece, ground])
  expect(Object.fromEntries(grounds)).toEqual({ shut: 'var(--paper)', plate: 'var(--paper)', tag: 'var(--card)', result: 'var(--paper)' })
  expect(sheet).not.toMatch(/opacity|rgba|backdrop-filter/)
})
