import { createRequire } from 'node:module'

const require = createRequire(import.meta.url)

/** The library is read with the first paper. The house's own thread sets none, and its first bid after a start does not wait for it. */
export const newDocument = (options: PDFKit.PDFDocumentOptions): PDFKit.PDFDocument => new (require('pdfkit'))(options)
