import { breakLines, INK, QUIET, setLine } from './lines'
import type { Paper } from './paper'

const STAGES = ['given', 'built', 'tested', 'listed', 'sold', 'sent'] as const
const WIRE = '#bf6a34'
const SHADE = '#e9e2d2'
const FAINT = '#d8cfbc'

/** Six screw terminals with a wire run as far as the unit had come when the certificate was issued: to *tested*. */
export function drawStrip(paper: Paper, reached: number) {
  const { doc, left } = paper
  const pitch = Math.min(86, (paper.width - 40) / (STAGES.length - 1))
  const y = paper.y + 10
  const at = (index: number) => left + 14 + index * pitch
  doc
    .moveTo(at(0), y)
    .lineTo(at(STAGES.length - 1), y)
    .lineWidth(1.2)
    .strokeColor(FAINT)
    .stroke()
  doc
    .moveTo(at(0), y)
    .lineTo(at(reached - 1), y)
    .lineWidth(2.6)
    .strokeColor(WIRE)
    .stroke()
  for (const [index, stage] of STAGES.entries()) {
    const on = index < reached
    const x = at(index)
    doc.roundedRect(x - 10, y - 9, 20, 18, 2.5).fill(SHADE)
    doc
      .circle(x, y, 6.2)
      .lineWidth(1.4)
      .fillAndStroke(on ? WIRE : '#fff', on ? WIRE : FAINT)
    // Clamped: the slot lies along the wire; open: across it.
    const [dx, dy] = on ? [3.6, -0.8] : [1.8, 3.2]
    doc
      .moveTo(x - dx, y - dy)
      .lineTo(x + dx, y + dy)
      .lineWidth(1.5)
      .strokeColor(on ? '#fff' : FAINT)
      .stroke()
    const face = index === reached - 1 ? 'bold' : 'text'
    const [line] = breakLines(paper.faces, [{ text: stage, face, colour: on ? INK : QUIET }], pitch, 8.5)
    if (line) setLine(doc, line, x - line.width / 2, y + 19, pitch)
  }
}

export const STRIP_HEIGHT = 36
