import { Faces } from './faces'
import { breakLines, QUIET, type Span, setLine } from './lines'
import { newDocument } from './pdf-document'

export const PAPERS = { a4: 'A4', letter: 'LETTER', a6: 'A6' } as const
export type PaperSize = keyof typeof PAPERS

export const MILLIMETRE = 72 / 25.4

/** 12 mm. */
const MARGIN = 34
const FOOT = 26

export interface PaperSpec {
  title: string
  author: string
  /** Stands in the file as its date: the same record gives the same bytes whenever it is asked for. */
  date: Date
  /** One of the sheets, or width and height in points. */
  size: PaperSize | readonly [width: number, height: number]
  margin?: number
  /** What each sheet says of itself at its foot, the page number opposite; null where there is no foot. */
  identity: string | null
}

/**
 * One paper as tagged PDF with embedded fonts: data in, bytes out. `compose` puts things on the
 * paper from the top; pages, their feet and the tags that a screen reader follows come of themselves.
 */
export function makePaper(spec: PaperSpec, compose: (paper: Paper) => void): Promise<Buffer> {
  const { size, margin = MARGIN } = spec
  const options = {
    size: typeof size === 'string' ? PAPERS[size] : [...size],
    margin,
    pdfVersion: '1.7',
    lang: 'en-GB',
    tagged: true,
    displayTitle: true,
    bufferPages: true,
    subset: 'PDF/UA',
    info: {
      Title: spec.title,
      Author: spec.author,
      Creator: 'Tagstrip',
      Producer: 'Tagstrip',
      CreationDate: spec.date,
      ModDate: spec.date,
    },
  }
  const doc = newDocument(options as unknown as PDFKit.PDFDocumentOptions)
  const chunks: Buffer[] = []
  const done = new Promise<Buffer>((resolve, reject) => {
    doc.on('data', (chunk: Buffer) => chunks.push(chunk))
    doc.on('end', () => resolve(Buffer.concat(chunks)))
    doc.on('error', reject)
  })
  const paper = new Paper(doc, margin, spec.identity === null ? 0 : FOOT)
  compose(paper)
  if (spec.identity !== null) paper.feet(spec.identity)
  doc.end()
  return done
}

type Element = ReturnType<PDFKit.PDFDocument['struct']>

export interface TextStyle {
  size?: number
  /** Line height in points; 1.4 × size unless told. */
  leading?: number
  width?: number
  x?: number
  after?: number
}

export class Paper {
  readonly faces: Faces
  readonly left: number
  readonly width: number
  readonly bottom: number
  y: number
  private readonly root: Element
  private onNewPage: (() => void) | null = null

  constructor(
    readonly doc: PDFKit.PDFDocument,
    private readonly margin: number,
    foot: number,
  ) {
    this.faces = new Faces(doc)
    this.left = margin
    this.y = margin
    this.width = doc.page.width - 2 * margin
    this.bottom = doc.page.height - margin - foot
    this.root = doc.struct('Document')
    doc.addStructure(this.root)
  }

  element(type: string, parent: Element = this.root, options: Record<string, unknown> = {}): Element {
    const element = this.doc.struct(type, options)
    parent.add(element)
    return element
  }

  /** What a screen reader passes over: rules, repeated heads, feet. */
  artifact(draw: () => void, kind: 'Layout' | 'Pagination' = 'Layout') {
    this.doc.markContent('Artifact', { type: kind })
    draw()
    this.doc.endMarkedContent()
  }

  /** While `work` runs, each new page begins with `head`. */
  withHead(head: () => void, work: () => void) {
    this.onNewPage = head
    work()
    this.onNewPage = null
  }

  /** Turns the page when fewer than `height` points are left. True if it did. */
  room(height: number): boolean {
    if (this.y + height <= this.bottom) return false
    this.doc.addPage()
    this.y = this.margin
    this.onNewPage?.()
    return true
  }

  /** What follows begins a sheet of its own, unless nothing stands on this one yet. */
  nextSheet(): void {
    if (this.y > this.margin) this.room(Number.POSITIVE_INFINITY)
  }

  text(type: string, spans: readonly Span[], style: TextStyle = {}, parent?: Element) {
    const { size = 10, width = this.width, x = this.left, after = 0 } = style
    const leading = style.leading ?? size * 1.4
    const lines = breakLines(this.faces, spans, width, size)
    const element = this.element(type, parent)
    let from = 0
    while (from < lines.length) {
      if (this.room(leading)) continue
      const fit = Math.max(1, Math.floor((this.bottom - this.y) / leading))
      const some = lines.slice(from, from + fit)
      element.add(() => {
        for (const [index, line] of some.entries()) setLine(this.doc, line, x, this.y + index * leading + size, width)
      })
      this.y += some.length * leading
      from += some.length
    }
    element.end()
    this.y += after
  }

  /** What a sheet begins with: the code of what it is about, what kind of paper it is, and the title of the thing. */
  opening(code: string, kind: string, title: string) {
    this.text('P', [{ text: code, face: 'codeBold' }], { size: 11, after: 2 })
    this.text('H1', [{ text: kind, face: 'bold' }], { size: 20, leading: 25, after: 2 })
    this.text('P', [{ text: title }], { size: 12, after: 10 })
  }

  heading(words: string, { size = 13, before = 14, after = 4, keep = 40 } = {}) {
    this.y += before
    this.room(keep)
    this.text('H2', [{ text: words, face: 'bold' }], { size, leading: size * 1.25, after })
  }

  /** A bold word, then what it introduces, in one paragraph. */
  said(lead: string, words: string, style: TextStyle = {}) {
    this.text('P', [{ text: `${lead} `, face: 'bold' }, { text: words }], { after: 4, ...style })
  }

  feet(identity: string) {
    const { start, count } = this.doc.bufferedPageRange()
    const at = this.bottom + FOOT
    for (let page = start; page < start + count; page += 1) {
      this.doc.switchToPage(page)
      this.artifact(() => {
        this.doc
          .moveTo(this.left, at - 14)
          .lineTo(this.left + this.width, at - 14)
          .lineWidth(0.6)
          .strokeColor('#18272a')
          .stroke()
        const [line] = breakLines(this.faces, [{ text: identity, face: 'code' }], this.width, 9)
        const [number] = breakLines(this.faces, [{ text: `page ${page - start + 1} of ${count}`, colour: QUIET }], this.width, 9)
        if (line) setLine(this.doc, line, this.left, at, this.width)
        if (number) setLine(this.doc, number, this.left, at, this.width, 'right')
      }, 'Pagination')
    }
  }
}
