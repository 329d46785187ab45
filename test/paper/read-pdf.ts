import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'

prepareZXingModule({
  overrides: {
    wasmBinary: new Uint8Array(readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))).buffer,
  },
})

export const openPdf = (bytes: Buffer) => getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 }).promise

type Pdf = Awaited<ReturnType<typeof openPdf>>

/** The words of each page, as a screen reader or a search would get them; one spelling for micro (U+00B5 and U+03BC are one glyph). */
export async function pagesOf(pdf: Pdf): Promise<string[]> {
  const pages: string[] = []
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent()
    const words = items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : '') : '')).join('')
    pages.push(words.replaceAll('\u03BC', '\u00B5'))
  }
  return pages
}

/** All words of a paper, one blank between two. */
export const wordsOf = async (bytes: Buffer): Promise<string> => (await pagesOf(await openPdf(bytes))).join('\n').replaceAll(/\s+/g, ' ')

type Rect = [left: number, top: number, right: number, bottom: number]

/** The bars of each QR code as they stand in the file, in points from the lower left of the sheet: every drawing of a page with many rectangles. */
export async function codesOf(pdf: Pdf, page = 1): Promise<Rect[][]> {
  const { fnArray, argsArray } = await (await pdf.getPage(page)).getOperatorList()
  const drawings = fnArray.flatMap((name, index) => (name === OPS.constructPath ? [rectsIn(argsArray[index]?.[1]?.[0] ?? [])] : []))
  return drawings.filter((rects) => rects.length > FEWEST_BARS)
}

const FEWEST_BARS = 60

/** pdfjs gives a path as numbers: 0 x y (move), 1 x y (line), 2 with six (curve), 3 with four, 4 (close). */
function rectsIn(path: ArrayLike<number>): Rect[] {
  const rects: Rect[] = []
  let corners: [number, number][] = []
  for (let at = 0; at < path.length; ) {
    const [step = 4, x = 0, y = 0] = [path[at], path[at + 1], path[at + 2]]
    if (step === 0) corners = [[x, y]]
    else if (step === 1) corners.push([x, y])
    if (step === 4 && corners.length >= 4) {
      const [xs, ys] = [corners.map((corner) => corner[0]), corners.map((corner) => corner[1])]
      rects.push([Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)])
      corners = []
    }
    at += { 0: 3, 1: 3, 2: 7, 3: 5 }[step] ?? 1
  }
  return rects
}

/** What a phone would read off the printed first sheet, at `dotsPerInch`; and how wide the dark part of the code is, in millimetres. */
export async function scanQr(pdf: Pdf, dotsPerInch = 300) {
  return scanBars((await codesOf(pdf))[0] ?? [], dotsPerInch)
}

/** One code as that printer would put it on paper: each bar rounded to whole dots. */
export async function scanBars(bars: readonly Rect[], dotsPerInch: number): Promise<{ text: string; level: string; widthMm: number }> {
  const left = Math.min(...bars.map((bar) => bar[0]))
  const top = Math.min(...bars.map((bar) => bar[1]))
  const right = Math.max(...bars.map((bar) => bar[2]))
  const scale = dotsPerInch / 72
  const quiet = 40
  const side = Math.ceil((right - left) * scale) + 2 * quiet
  const data = new Uint8ClampedArray(side * side * 4).fill(255)
  for (const [x0, y0, x1, y1] of bars) {
    for (let y = Math.round((y0 - top) * scale); y < Math.round((y1 - top) * scale); y += 1) {
      for (let x = Math.round((x0 - left) * scale); x < Math.round((x1 - left) * scale); x += 1) {
        data.fill(0, ((y + quiet) * side + x + quiet) * 4, ((y + quiet) * side + x + quiet) * 4 + 3)
      }
    }
  }
  const [found] = await readBarcodes({ data, width: side, height: side, colorSpace: 'srgb' } as ImageData, { formats: ['QRCode'] })
  return { text: found?.text ?? '', level: found?.ecLevel ?? '', widthMm: ((right - left) / 72) * 25.4 }
}
