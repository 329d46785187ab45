import type { Face, Faces } from './faces'

export interface Span {
  text: string
  face?: Face
  size?: number
  colour?: string
}

interface Piece {
  font: string
  text: string
  size: number
  colour: string
  width: number
}

export interface Line {
  pieces: Piece[]
  width: number
}

export const INK = '#18272a'
export const QUIET = '#53605d'
export const RULE = '#d8cfbc'

/** Breaks spans into lines no wider than `width`, at spaces and where a line feed says so; a word that alone is wider, such as a hash, between its characters. */
export function breakLines(faces: Faces, spans: readonly Span[], width: number, size: number): Line[] {
  const lines: Line[] = [{ pieces: [], width: 0 }]
  for (const span of spans) {
    for (const word of span.text.match(/\n|\S+[^\S\n]*|[^\S\n]+/g) ?? []) {
      if (word === '\n') {
        lines.push({ pieces: [], width: 0 })
        continue
      }
      const bare = measure(faces, word.trimEnd(), span, size)
      const line = lines.at(-1)
      if (line && line.width > 0 && line.width + widthOf(bare) > width) lines.push({ pieces: [], width: 0 })
      for (const part of widthOf(bare) > width ? splitWord(faces, word, span, size, width) : [measure(faces, word, span, size)]) {
        if ((lines.at(-1)?.width ?? 0) > 0 && (lines.at(-1)?.width ?? 0) + widthOf(part) - trailing(faces, part) > width) {
          lines.push({ pieces: [], width: 0 })
        }
        append(lines.at(-1), part)
      }
    }
  }
  return lines
}

const widthOf = (pieces: readonly Piece[]) => pieces.reduce((sum, piece) => sum + piece.width, 0)

function trailing(faces: Faces, pieces: readonly Piece[]): number {
  const last = pieces.at(-1)
  if (!last) return 0
  return last.width - faces.width(last.font, last.size, last.text.trimEnd())
}

function measure(faces: Faces, text: string, span: Span, size: number): Piece[] {
  const at = span.size ?? size
  return faces
    .runs(text, span.face ?? 'text')
    .map((run) => ({ ...run, size: at, colour: span.colour ?? INK, width: faces.width(run.font, at, run.text) }))
}

function splitWord(faces: Faces, word: string, span: Span, size: number, width: number): Piece[][] {
  const parts: Piece[][] = []
  let held = ''
  for (const character of word) {
    if (held !== '' && widthOf(measure(faces, (held + character).trimEnd(), span, size)) > width) {
      parts.push(measure(faces, held, span, size))
      held = ''
    }
    held += character
  }
  if (held !== '') parts.push(measure(faces, held, span, size))
  return parts
}

/** Neighbours in one font are set as one string: better spacing, and a reader that copies the text gets whole words. */
function append(line: Line | undefined, pieces: readonly Piece[]) {
  if (!line) return
  for (const piece of pieces) {
    const last = line.pieces.at(-1)
    if (last && last.font === piece.font && last.size === piece.size && last.colour === piece.colour) {
      last.text += piece.text
      last.width += piece.width
    } else line.pieces.push({ ...piece })
    line.width += piece.width
  }
}

/** Sets one line with its baseline at `y`. */
export function setLine(doc: PDFKit.PDFDocument, line: Line, x: number, y: number, width: number, align: 'left' | 'right' = 'left') {
  const spare = align === 'right' ? width - lineWidth(line, doc) : 0
  let at = x + spare
  for (const piece of line.pieces) {
    doc.font(piece.font).fontSize(piece.size).fillColor(piece.colour)
    doc.text(piece.text, at, y, { lineBreak: false, baseline: 'alphabetic' })
    at += piece.width
  }
}

function lineWidth(line: Line, doc: PDFKit.PDFDocument): number {
  const last = line.pieces.at(-1)
  if (!last) return 0
  return line.width - last.width + doc.font(last.font).fontSize(last.size).widthOfString(last.text.trimEnd())
}
