import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { initWasm, Resvg } from '@resvg/resvg-wasm'
import { type GaugeReading, type GaugeVerdict, placeGauge } from './gauge.rules'
import { Letters } from './letters'

/** The picture that stands beside a link to a unit: its tag with the gauges, 1200 × 630. */
export interface PictureOrder {
  of: 'picture'
  tag: string
  title: string
  chip: string
  tone: 'ok' | 'bad' | 'plain'
  sentence: string
  gauges: readonly (Required<GaugeReading> & { name: string; shown: string; verdict: GaugeVerdict })[]
  foot: string
  /** For a lot: when it closes, or how it ended; takes the place of the foot and is read at the size of a link's picture. */
  closing: string | null
}

export const WIDTH = 1200
export const HEIGHT = 630
export const PAPER = '#f3eee3'
export const CARD = '#fffdf8'
export const INK = '#18272a'
export const QUIET = '#53605d'
export const EDGE = '#c9bda4'
export const COPPER = '#bf6a34'
/** The same, dark enough for words. */
export const COPPER_INK = '#8f4116'
const TONES = { ok: '#12604d', bad: '#9c2a25', plain: '#53605d' } as const
const VERDICTS: Record<GaugeVerdict, string> = {
  pass: '#12604d',
  'pass within doubt': '#7d5200',
  'fail within doubt': '#7d5200',
  fail: '#9c2a25',
}

// Not by sharp: its reader of SVG stays blocked in this process, since photographs come from outside.
let ready: Promise<void> | null = null

export const setPicture = (order: PictureOrder): Promise<Buffer> => pngOf(pictureSvg(order))

export async function pngOf(svg: string): Promise<Buffer> {
  ready ??= initWasm(readFileSync(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm')))
  await ready
  const drawing = new Resvg(svg)
  const image = drawing.render()
  const png = Buffer.from(image.asPng())
  image.free()
  drawing.free()
  return png
}

function pictureSvg(order: PictureOrder): string {
  const letters = new Letters()
  const left = 190
  const room = WIDTH - left - 90
  const tone = TONES[order.tone]
  const chipWidth = letters.width(order.chip, 'bold', 26)
  const sentence = letters.lines(order.sentence, 'text', 30, room, 2)
  const rowsFrom = 232 + sentence.length * 40
  const pitch = Math.min(62, (HEIGHT - (order.closing === null ? 92 : 120) - rowsFrom) / Math.max(1, order.gauges.length))
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}"><rect width="100%" height="100%" fill="${PAPER}"/>`,
    // A tag: two corners clipped on the side of the eyelet.
    `<path d="M106 36H1160V594H106L40 528V102Z" fill="${CARD}" stroke="${EDGE}" stroke-width="2"/>`,
    `<circle cx="112" cy="315" r="26" fill="${PAPER}" stroke="${COPPER}" stroke-width="9"/>`,
    letters.line(order.tag, { x: left, y: 108, size: 46, face: 'codeBold', colour: INK }),
    letters.line(order.chip, { x: 1118 - chipWidth, y: 104, size: 26, face: 'bold', colour: tone }),
    `<path d="${MARKS[order.tone]}" transform="translate(${1118 - chipWidth - 42} 80) scale(1.9)" fill="none" stroke="${tone}" stroke-width="2.6" stroke-linecap="round" stroke-linejoin="round"/>`,
    letters.line(letters.lines(order.title, 'bold', 44, room, 1)[0] ?? '', { x: left, y: 170, size: 44, face: 'bold', colour: INK }),
    ...sentence.map((line, index) => letters.line(line, { x: left, y: 222 + index * 40, size: 30, face: 'text', colour: INK })),
    ...order.gauges.map((gauge, index) => gaugeRow(letters, gauge, { left, y: rowsFrom + pitch * (index + 0.5) })),
    order.closing === null
      ? letters.line(letters.lines(order.foot, 'text', 24, room, 1)[0] ?? '', {
          x: left,
          y: HEIGHT - 58,
          size: 24,
          face: 'text',
          colour: QUIET,
        })
      : letters.line(letters.lines(order.closing, 'bold', 40, room, 1)[0] ?? '', {
          x: left,
          y: HEIGHT - 64,
          size: 40,
          face: 'bold',
          colour: COPPER_INK,
        }),
    '</svg>',
  ].join('')
}

const MARKS = { ok: 'M2.5 8.5L6.5 12.5L13.5 4', bad: 'M3.5 3.5L12.5 12.5M12.5 3.5L3.5 12.5', plain: 'M3 8H13' } as const

function gaugeRow(letters: Letters, gauge: PictureOrder['gauges'][number], { left, y }: { left: number; y: number }): string {
  const places = placeGauge(gauge)
  const [from, width] = [720, 398]
  const at = (fraction: number) => from + fraction * width
  const colour = VERDICTS[gauge.verdict]
  const shown = letters.width(gauge.shown, 'code', 26)
  const name = letters.lines(gauge.name, 'text', 26, 690 - left - shown - 30, 1)[0] ?? ''
  const { lower, upper, doubt, value, opening } = places
  const post = (place: number) => `<rect x="${at(place) - 1.5}" y="${y - 19}" width="3" height="38" fill="${QUIET}"/>`
  const chevrons = opening === 'open-below' ? [-1, 0.04] : opening === 'open-above' ? [1, 0.88] : null
  return [
    letters.line(name, { x: left, y: y + 9, size: 26, face: 'text', colour: INK }),
    letters.line(gauge.shown, { x: 690 - shown, y: y + 9, size: 26, face: 'code', colour: INK }),
    `<rect x="${from}" y="${y - 5}" width="${width}" height="10" rx="3" fill="#e9e2d2"/>`,
    gauge.lower !== null && gauge.lower === gauge.upper
      ? ''
      : `<rect x="${at(lower ?? 0)}" y="${y - 13}" width="${at(upper ?? 1) - at(lower ?? 0)}" height="26" fill="#d5eadf"/>`,
    lower === null ? '' : post(lower),
    upper === null ? '' : post(upper),
    chevrons === null ? '' : [0, 14, 28].map((step) => chevron(at(chevrons[1] ?? 0) + step, y, chevrons[0] ?? 1)).join(''),
    doubt
      ? `<rect x="${at(doubt.from)}" y="${y - 7}" width="${Math.max(1, at(doubt.to) - at(doubt.from))}" height="14" rx="3" fill="${colour}" opacity="0.35"/>`
      : '',
    tick(at(value), y, gauge.verdict, colour),
  ].join('')
}

const chevron = (x: number, y: number, way: number) =>
  `<path d="M${x} ${y - 8}L${x + 7 * way} ${y}L${x} ${y + 8}" fill="none" stroke="#12604d" stroke-width="3" stroke-linecap="round"/>`

function tick(x: number, y: number, verdict: GaugeVerdict, colour: string): string {
  if (verdict === 'pass') return `<rect x="${x - 4}" y="${y - 22}" width="8" height="44" rx="2" fill="${colour}"/>`
  if (verdict === 'fail')
    return `<path d="M${x - 11} ${y - 13}L${x + 11} ${y + 13}M${x + 11} ${y - 13}L${x - 11} ${y + 13}" stroke="${colour}" stroke-width="6" stroke-linecap="round"/>`
  return `<path d="M${x} ${y - 19}L${x + 12} ${y}L${x} ${y + 19}L${x - 12} ${y}Z" fill="${colour}"/>`
}
