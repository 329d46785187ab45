import { Refusal } from '#kernel/refusal'
import { breakLines, QUIET, setLine } from '#paper/lines'
import { MILLIMETRE, makePaper, type Paper } from '#paper/paper'
import { drawModules, QUIET_MODULES, qrModules } from '#paper/qr'
import {
  DOT_MM,
  type LabelPaper,
  type LabelSize,
  labelsOnSheet,
  moduleDots,
  placeOnSheet,
  type SheetPlan,
  sheetPlan,
  wholeDots,
} from '#paper/sheet.rules'

/** Between the edge of a label and what stands on it: printers and hands are that far off. */
const EDGE = 1.2

export interface Label {
  /** What the code says when it is scanned: an address of the house. */
  code: string
  /** The tag, in large capitals: "P-0042", "TERN-03". Shrinks until it fits. */
  tag: string
  /** What people read below it, most telling first; lines for which there is no room are left out. */
  lines: readonly string[]
}

/** Labels for pieces, bags, units and shelves. */
export interface LabelsOrder {
  of: 'labels'
  paper: LabelPaper
  size: LabelSize
  labels: readonly Label[]
  /** Places of the first sheet that are used up already. */
  skip?: number
  title: string
  author: string
  /** Stands in the file as its date, in milliseconds: the same order gives the same bytes. */
  at: number
}

declare module '#paper/order' {
  interface Papers {
    labels: LabelsOrder
  }
}

/** An order for labels; refused, in words, when no code or no label would fit. */
export function labelsOrder(parts: Omit<LabelsOrder, 'of'>): LabelsOrder {
  const { paper, size, labels, skip = 0 } = parts
  if (labels.length === 0) throw new Refusal('bad-input', 'There are no labels to print. Choose what they are for.')
  if (labels.length > MOST_LABELS) throw new Refusal('too-large', `Print at most ${MOST_LABELS} labels at a time.`)
  const places = labelsOnSheet(paper, size)
  if (!Number.isInteger(skip) || skip < 0 || skip >= places)
    throw Refusal.at('skip', `Say how many labels on the first sheet are already used: a whole number from 0 to ${places - 1}.`)
  const longest = labels.reduce((most, { code }) => (code.length > most.length ? code : most), '')
  moduleDots(qrModules(longest).length + 2 * QUIET_MODULES, roomFor(sheetPlan(paper, size)))
  return { of: 'labels', ...parts }
}

const MOST_LABELS = 2000
const roomFor = ({ label }: SheetPlan) => Math.min(label.height, label.width / 2)

/** Each module of each code is a whole number of dots of a 203 dpi printer, and begins on one. */
export function setLabels(order: LabelsOrder): Promise<Buffer> {
  const { paper, size, labels, skip = 0, title, author, at } = order
  const plan = sheetPlan(paper, size)
  const sheet = [plan.page.width * MILLIMETRE, plan.page.height * MILLIMETRE] as const
  return makePaper({ title, author, date: new Date(at), size: sheet, margin: 0, identity: null }, (page) => {
    let current = 0
    for (const [index, label] of labels.entries()) {
      const place = placeOnSheet(plan, index, skip)
      if (place.sheet > current) page.doc.addPage()
      current = place.sheet
      setLabel(page, plan, label, { x: wholeDots(place.x), y: wholeDots(place.y) })
    }
  })
}

function setLabel(paper: Paper, plan: SheetPlan, label: Label, corner: { x: number; y: number }) {
  const { width, height } = plan.label
  const rows = qrModules(label.code)
  const modules = rows.length + 2 * QUIET_MODULES
  const module = moduleDots(modules, roomFor(plan)) * DOT_MM
  // The quiet zone may run out over the label's edge margin, so it needs none of its own.
  const side = modules * module
  const top = wholeDots(corner.y + (height - side) / 2)
  const left = corner.x
  const section = paper.element('Sect')
  const from = { x: left * MILLIMETRE, y: top * MILLIMETRE }
  paper
    .element('Figure', section, {
      alt: `QR code: ${label.code}`,
      bbox: [from.x, from.y, from.x + side * MILLIMETRE, from.y + side * MILLIMETRE],
      placement: 'Block',
    })
    .add(() =>
      drawModules(
        paper.doc,
        rows,
        from.x + QUIET_MODULES * module * MILLIMETRE,
        from.y + QUIET_MODULES * module * MILLIMETRE,
        module * MILLIMETRE,
      ),
    )
    .end()
  const x = (left + side) * MILLIMETRE
  const box = {
    x,
    width: (corner.x + width - EDGE) * MILLIMETRE - x,
    y: (corner.y + EDGE) * MILLIMETRE,
    height: (height - 2 * EDGE) * MILLIMETRE,
  }
  setWords(paper, section, label, box)
  section.end()
}

interface Box {
  x: number
  y: number
  width: number
  height: number
}

const LARGEST_TAG = 20
const SMALLEST_TAG = 6
const LARGEST_WORDS = 10
const SMALLEST_WORDS = 5.5

function setWords(paper: Paper, section: ReturnType<Paper['element']>, label: Label, box: Box) {
  const tagSize = sizeFor(paper, label.tag, box)
  const tag = breakLines(paper.faces, [{ text: label.tag, face: 'codeBold' }], box.width, tagSize)
  const tagHeight = tag.length * tagSize * 1.15
  const { size, leading, words } = linesThatGo(paper, label.lines, box.width, box.height - tagHeight)
  const top = box.y + (box.height - tagHeight - words.length * leading) / 2
  paper
    .element('P', section)
    .add(() => {
      for (const [index, line] of tag.entries()) setLine(paper.doc, line, box.x, top + index * tagSize * 1.15 + tagSize * 0.9, box.width)
    })
    .end()
  if (words.length === 0) return
  paper
    .element('P', section)
    .add(() => {
      for (const [index, line] of words.entries()) setLine(paper.doc, line, box.x, top + tagHeight + index * leading + size, box.width)
    })
    .end()
}

/** All lines at the largest size at which they go in; at the smallest, as many as do. */
function linesThatGo(paper: Paper, lines: readonly string[], width: number, height: number) {
  for (let size = LARGEST_WORDS; ; size -= 0.5) {
    const leading = size * 1.25
    const words = lines.flatMap((text, index) => breakLines(paper.faces, [{ text, ...(index > 0 && { colour: QUIET }) }], width, size))
    const most = Math.max(0, Math.floor(height / leading))
    if (words.length <= most || size <= SMALLEST_WORDS) return { size, leading, words: words.slice(0, most) }
  }
}

/** The largest size at which the tag stands in one line; the smallest where none does, and then it is broken. */
function sizeFor(paper: Paper, tag: string, box: Box): number {
  const [line] = breakLines(paper.faces, [{ text: tag, face: 'codeBold' }], 10_000, 10)
  const wide = line ? (10 * box.width) / line.width : LARGEST_TAG
  return Math.max(SMALLEST_TAG, Math.min(LARGEST_TAG, Math.floor(wide * 4) / 4, box.height * 0.34))
}
