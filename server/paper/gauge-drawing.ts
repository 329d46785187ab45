import { type GaugeReading, type GaugeVerdict, placeGauge } from './gauge.rules'

const MASK = '#12604d'
const MASK_TINT = '#d5eadf'
const OXIDE = '#9c2a25'
const AMBER = '#7d5200'
const SHADE = '#e9e2d2'
const POST = '#53605d'

const TONES: Record<GaugeVerdict, string> = { pass: MASK, 'pass within doubt': AMBER, 'fail within doubt': AMBER, fail: OXIDE }

interface Box {
  x: number
  y: number
  width: number
  height: number
}

/** The gauge in print: the pass band fills the middle half, an open side runs out in chevrons, the tick's shape says the verdict without colour. */
export function drawGauge(doc: PDFKit.PDFDocument, reading: GaugeReading, verdict: GaugeVerdict, box: Box) {
  const places = placeGauge(reading)
  const middle = box.y + box.height / 2
  const at = (fraction: number) => box.x + fraction * box.width
  doc.rect(box.x, middle - 1.5, box.width, 3).fill(SHADE)
  const { opening, lower, upper, nominal, doubt, value } = places
  if (opening !== 'no-limits' && reading.lower !== reading.upper) {
    doc.rect(at(lower ?? 0), middle - 4, at(upper ?? 1) - at(lower ?? 0), 8).fill(MASK_TINT)
  }
  for (const limit of [lower, upper]) if (limit !== null) doc.rect(at(limit) - 0.5, middle - 6, 1, 12).fill(POST)
  if (opening === 'open-below') chevrons(doc, at(0.04), middle, -1)
  if (opening === 'open-above') chevrons(doc, at(0.88), middle, 1)
  if (nominal !== null) doc.rect(at(nominal) - 0.25, middle - 4, 0.5, 8).fill(POST)
  const tone = TONES[verdict]
  if (doubt)
    doc
      .rect(at(doubt.from), middle - 2, Math.max(0.6, at(doubt.to) - at(doubt.from)), 4)
      .fillOpacity(0.35)
      .fill(tone)
      .fillOpacity(1)
  tick(doc, at(value), middle, verdict, tone)
}

function chevrons(doc: PDFKit.PDFDocument, x: number, y: number, way: 1 | -1) {
  for (const step of [0, 5, 10]) {
    const back = x + step - 1.5 * way
    doc
      .moveTo(back, y - 2.5)
      .lineTo(back + 3 * way, y)
      .lineTo(back, y + 2.5)
      .lineWidth(0.8)
      .strokeColor(MASK)
      .stroke()
  }
}

/** A bar for a pass, a diamond where doubt reaches over a limit, a cross for a failure. */
function tick(doc: PDFKit.PDFDocument, x: number, y: number, verdict: GaugeVerdict, tone: string) {
  if (verdict === 'pass') doc.rect(x - 1.1, y - 7.5, 2.2, 15).fill(tone)
  else if (verdict === 'fail') {
    doc
      .moveTo(x - 4, y - 5)
      .lineTo(x + 4, y + 5)
      .moveTo(x + 4, y - 5)
      .lineTo(x - 4, y + 5)
      .lineWidth(1.8)
      .strokeColor(tone)
      .stroke()
  } else doc.polygon([x, y - 7], [x + 4, y], [x, y + 7], [x - 4, y]).fill(tone)
}
