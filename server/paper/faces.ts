import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { unpackWoff } from './woff'

/** The four voices of our papers. Each is a chain: what the first font lacks (Ω, µ, ≤, names in other scripts) the next one sets. */
export type Face = 'text' | 'bold' | 'code' | 'codeBold'

const CHAINS: Record<Face, readonly string[]> = {
  text: [
    '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff',
    ...extended('next', 400),
    deja(''),
  ],
  bold: [
    '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff',
    ...extended('next', 700),
    deja('-Bold'),
  ],
  code: [
    '@fontsource/atkinson-hyperlegible-mono/files/atkinson-hyperlegible-mono-latin-400-normal.woff',
    ...extended('mono', 400),
    deja('Mono'),
  ],
  codeBold: [
    '@fontsource/atkinson-hyperlegible-mono/files/atkinson-hyperlegible-mono-latin-600-normal.woff',
    ...extended('mono', 600),
    deja('Mono-Bold'),
  ],
}

function extended(kind: 'next' | 'mono', weight: number): string[] {
  return [`@fontsource/atkinson-hyperlegible-${kind}/files/atkinson-hyperlegible-${kind}-latin-ext-${weight}-normal.woff`]
}

function deja(style: string): string {
  return `dejavu-fonts-ttf/ttf/DejaVuSans${style}.ttf`
}

/** The parts of a font that pdfkit has read: which characters it can set, the glyphs that it has set so far, and what lays a text out in them. */
interface ReadFont {
  hasGlyphForCodePoint(point: number): boolean
  _glyphs: object
  _layoutEngine: { constructor: new (font: ReadFont) => ReadFont['_layoutEngine'] }
}

const files = new Map<string, Buffer>()
const find = createRequire(import.meta.url)

function fileOf(path: string): Buffer {
  const known = files.get(path)
  if (known) return known
  const read = readFileSync(find.resolve(path))
  const bytes = path.endsWith('.woff') ? unpackWoff(read) : read
  files.set(path, bytes)
  return bytes
}

/** Fonts that were read: to work out what a font says of its characters took half the time of a paper. */
const fonts = new Map<string, ReadFont>()

/**
 * The same font for a further document, with all that was worked out of what its file says. Its glyphs are its own, since each says
 * of which characters it was first set, and that is a matter of one document.
 */
function forDocument(read: ReadFont): ReadFont {
  const own: ReadFont = Object.assign(Object.create(read), { _glyphs: {} })
  Object.defineProperty(own, '_layoutEngine', { value: new read._layoutEngine.constructor(own) })
  return own
}

/**
 * How wide a text is in a font, in thousandths of its size: to lay one out takes longest of all that a paper takes, and most words
 * stand on every paper of their kind.
 */
const widths = new Map<string, number>()
const MOST_WIDTHS = 20_000

const REPLACEMENT = '\uFFFD'

/** The fonts of one document: which font sets which characters of a text, and how wide that is. */
export class Faces {
  private readonly opened = new Map<string, ReadFont>()
  private readonly chosen = new Map<string, string>()

  constructor(private readonly doc: PDFKit.PDFDocument) {}

  /** Splits `text` into runs that one font can set. What no font can set becomes U+FFFD, which all can. */
  runs(text: string, face: Face): { font: string; text: string }[] {
    const runs: { font: string; text: string }[] = []
    for (const character of text) {
      const font = this.fontFor(character, face)
      const last = runs.at(-1)
      const set = font === null ? REPLACEMENT : character
      const name = font ?? this.open(CHAINS[face].at(-1) ?? '')
      if (last?.font === name) last.text += set
      else runs.push({ font: name, text: set })
    }
    return runs
  }

  width(font: string, size: number, text: string): number {
    const key = `${font}\n${text}`
    let width = widths.get(key)
    if (width === undefined) {
      width = this.doc.font(font).fontSize(1000).widthOfString(text)
      if (widths.size >= MOST_WIDTHS) widths.clear()
      widths.set(key, width)
    }
    return width * (size / 1000)
  }

  private fontFor(character: string, face: Face): string | null {
    const key = `${face}${character}`
    const known = this.chosen.get(key)
    if (known !== undefined) return known === '' ? null : known
    const point = character.codePointAt(0) ?? 0
    const path = CHAINS[face].find((one) => this.opened.get(this.open(one))?.hasGlyphForCodePoint(point))
    this.chosen.set(key, path ?? '')
    return path ?? null
  }

  private open(path: string): string {
    if (!this.opened.has(path)) {
      const read = fonts.get(path)
      this.doc.registerFont(path, (read ? forDocument(read) : fileOf(path)) as string | Buffer)
      this.doc.font(path)
      const { font } = (this.doc as unknown as { _font: { font: ReadFont } })._font
      if (!read) fonts.set(path, font)
      this.opened.set(path, font)
    }
    return path
  }
}
