import { type Face, Faces } from './faces'
import { newDocument } from './pdf-document'

interface Glyphs {
  unitsPerEm: number
  layout(text: string): { glyphs: { path: { toSVG(): string }; advanceWidth: number }[]; positions: { xAdvance: number }[] }
}

/**
 * Words as outlines for a picture: the machine that draws it need have none of our fonts. Widths and paths are those of
 * the fonts on our papers.
 */
export class Letters {
  private readonly doc = newDocument({ autoFirstPage: false })
  private readonly faces = new Faces(this.doc)

  width(text: string, face: Face, size: number): number {
    return this.faces.runs(text, face).reduce((sum, run) => sum + this.faces.width(run.font, size, run.text), 0)
  }

  /** SVG of one line with its baseline at `y`. */
  line(text: string, { x, y, size, face, colour }: { x: number; y: number; size: number; face: Face; colour: string }): string {
    let at = x
    const parts: string[] = []
    for (const run of this.faces.runs(text, face)) {
      this.doc.font(run.font)
      const font = (this.doc as unknown as { _font: { font: Glyphs } })._font.font
      const scale = size / font.unitsPerEm
      const { glyphs, positions } = font.layout(run.text)
      for (const [index, glyph] of glyphs.entries()) {
        const path = glyph.path.toSVG()
        if (path)
          parts.push(`<path transform="translate(${at.toFixed(2)} ${y}) scale(${scale.toFixed(6)} ${(-scale).toFixed(6)})" d="${path}"/>`)
        at += (positions[index]?.xAdvance ?? glyph.advanceWidth) * scale
      }
    }
    return `<g fill="${colour}">${parts.join('')}</g>`
  }

  /** Breaks at spaces; what is left over after `most` lines ends in an ellipsis. */
  lines(text: string, face: Face, size: number, width: number, most: number): string[] {
    const lines: string[] = []
    let line = ''
    for (const word of text.split(/\s+/)) {
      const longer = line === '' ? word : `${line} ${word}`
      if (line !== '' && this.width(longer, face, size) > width) {
        lines.push(line)
        line = word
      } else line = longer
    }
    lines.push(line)
    return lines.length <= most ? lines : [...lines.slice(0, most - 1), `${lines[most - 1]} …`]
  }
}
