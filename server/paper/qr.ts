import bwip from 'bwip-js/node'

/** The modules of a QR code, level M, as rows of true (dark) and false; without its quiet zone of four. */
export function qrModules(text: string): boolean[][] {
  const [symbol] = bwip.raw('qrcode', text, 'eclevel=M')
  if (!symbol || !('pixs' in symbol)) throw new Error('the QR encoder gave no matrix')
  const { pixs, pixx, pixy } = symbol
  return Array.from({ length: pixy }, (_, row) => Array.from({ length: pixx }, (_, column) => pixs[row * pixx + column] === 1))
}

export const QUIET_MODULES = 4

/** The same as one path of SVG in module units, quiet zone included: a square of `size` by `size`. */
export function qrPath(text: string): { size: number; path: string } {
  const rows = qrModules(text)
  const path = rows.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x + QUIET_MODULES} ${y + QUIET_MODULES}h1v1h-1z` : ''))).join('')
  return { size: rows.length + 2 * QUIET_MODULES, path }
}

/** Draws it with its quiet zone into a square of `side` points. */
export function drawQr(doc: PDFKit.PDFDocument, text: string, x: number, y: number, side: number) {
  const rows = qrModules(text)
  const module = side / (rows.length + 2 * QUIET_MODULES)
  drawModules(doc, rows, x + QUIET_MODULES * module, y + QUIET_MODULES * module, module)
}

/** The dark modules alone, from their upper left corner. Neighbours of a row are one bar, so that no hairline shows. */
export function drawModules(doc: PDFKit.PDFDocument, rows: readonly boolean[][], x: number, y: number, module: number) {
  for (const [row, cells] of rows.entries()) {
    for (let column = 0; column < cells.length; column += 1) {
      if (!cells[column]) continue
      let end = column
      while (cells[end]) end += 1
      doc.rect(x + column * module, y + row * module, (end - column) * module, module)
      column = end
    }
  }
  doc.fillColor('#000').fill()
}
