import { once } from 'node:events'
import { SaxesParser, type SaxesTagPlain } from 'saxes'
import { type Entry, fromBuffer, type ZipFile } from 'yauzl'
import type { Notes } from './notes.rules'

/** Workbooks of spreadsheet programs, Office Open XML (ECMA-376) and OpenDocument (ISO/IEC 26300): read for the cells of one sheet, and nothing else. */

/** What a file unpacks to, counted as it is unpacked, whatever the archive says. */
const MOST_UNPACKED_BYTES = 40_000_000
const MOST_ENTRIES = 2000
const MOST_ROWS = 5012
const MOST_COLUMNS = 101
const MOST_CELL = 2000
const MOST_SHARED = 600_000
const MOST_TEXT = 6_000_000
const MOST_SHEETS = 30

/** Any ZIP archive: a table as text never begins so. */
export const isWorkbook = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 0x03 && bytes[3] === 0x04

class Unreadable extends Error {}

/** The cells of a workbook's sheet as text with tabs between, a line for each of its rows; nothing, and a flaw, where it cannot be read. */
export async function readWorkbook(bytes: Uint8Array, notes: Notes): Promise<string> {
  try {
    const book = await unpack(bytes)
    const sheets = book.has('content.xml') ? readOpenDocument(book) : readOfficeOpen(book)
    const filled = sheets.filter(({ rows }) => rows.length > 0)
    const names = filled.map(({ name }) => name)
    const chosen = filled.length > 1 ? askWhich(names, notes) : names[0]
    const rows = (filled.find(({ name }) => name === chosen) ?? filled[0])?.rows ?? []
    return rows.map((row) => row.map(asCell).join('\t')).join('\n')
  } catch (reason) {
    if (!(reason instanceof Unreadable)) throw reason
    notes.flaw(0, '', `${reason.message} In the spreadsheet, use “Save as” or “Download” and choose CSV, then choose that file here.`)
    return ''
  }
}

function askWhich(names: readonly string[], notes: Notes): string | null {
  return notes.ask({
    key: 'worksheet',
    words: `The file holds ${names.length} sheets. Which one is meant?`,
    options: names.slice(0, MOST_SHEETS).map((name) => ({ value: name, label: name })),
  })
}

const asCell = (cell: string): string => (/["\t]/.test(cell) ? `"${cell.replaceAll('"', '""').replaceAll('\t', ' ')}"` : cell)

interface Sheet {
  name: string
  rows: string[][]
}

/** The parts of an archive that are read, by their names. */
async function unpack(bytes: Uint8Array): Promise<Map<string, string>> {
  const zip = await new Promise<ZipFile>((resolve, reject) =>
    fromBuffer(Buffer.from(bytes), { lazyEntries: true, strictFileNames: true, validateEntrySizes: true }, (reason, opened) =>
      opened ? resolve(opened) : reject(new Unreadable('This file is damaged, or no spreadsheet.', { cause: reason })),
    ),
  )
  if (zip.entryCount > MOST_ENTRIES) throw new Unreadable('This file holds more parts than a spreadsheet has.')
  const found = new Map<string, string>()
  let left = MOST_UNPACKED_BYTES
  const ended = once(zip, 'end')
  zip.on('error', () => {})
  zip.on('entry', (entry: Entry) => {
    const isWanted =
      /^(?:content\.xml|xl\/(?:workbook|sharedStrings|styles)\.xml|xl\/_rels\/workbook\.xml\.rels|xl\/worksheets\/[\w.-]{1,80}\.xml)$/.test(
        entry.fileName,
      )
    if (!isWanted) return zip.readEntry()
    if (found.has(entry.fileName)) return zip.emit('error', new Error('a part stands twice'))
    textOf(zip, entry, left).then(
      (text) => {
        left -= text.length
        found.set(entry.fileName, text)
        zip.readEntry()
      },
      (reason: unknown) => zip.emit('error', reason),
    )
  })
  zip.readEntry()
  await ended.catch((reason: unknown) => {
    throw reason instanceof Unreadable ? reason : new Unreadable('This file is damaged, encrypted, or no spreadsheet.', { cause: reason })
  })
  return found
}

async function textOf(zip: ZipFile, entry: Entry, most: number): Promise<string> {
  if (entry.isEncrypted()) throw new Unreadable('This file is locked with a password.')
  const tooLarge = () => new Unreadable('This file unpacks to more than a table of five thousand rows can be.')
  if (entry.uncompressedSize > most) throw tooLarge()
  const stream = await new Promise<NodeJS.ReadableStream>((resolve, reject) =>
    zip.openReadStream(entry, (reason, opened) => (opened ? resolve(opened) : reject(reason))),
  )
  const chunks: Buffer[] = []
  let size = 0
  for await (const chunk of stream as AsyncIterable<Buffer>) {
    size += chunk.byteLength
    if (size > most) throw tooLarge()
    chunks.push(chunk)
  }
  return Buffer.concat(chunks).toString('utf8')
}

interface Heard {
  open?(tag: SaxesTagPlain): void
  close?(name: string): void
  text?(text: string): void
}

/** Reads XML by events. A document type is refused: no workbook has one, and entities of one's own are how texts are blown up. */
function hear(xml: string, { open, close, text }: Heard): void {
  const parser = new SaxesParser({ xmlns: false })
  parser.on('error', (reason) => {
    throw new Unreadable('This file is damaged, or no spreadsheet.', { cause: reason })
  })
  parser.on('doctype', () => {
    throw new Unreadable('This file holds what no spreadsheet needs.')
  })
  const bare = (name: string) => name.slice(name.indexOf(':') + 1)
  if (open) parser.on('opentag', (tag) => open({ ...tag, name: bare(tag.name) } as SaxesTagPlain))
  if (close) parser.on('closetag', (tag) => close(bare(tag.name)))
  if (text) {
    parser.on('text', text)
    parser.on('cdata', text)
  }
  parser.write(xml).close()
}

/** The rows as they come: gaps filled with empty cells, nothing kept beyond what a table may have. */
function openRows() {
  const rows: string[][] = []
  let left = MOST_TEXT
  return {
    rows,
    /** Both count from 0. */
    put(row: number, column: number, cell: string) {
      if (!(row >= 0 && row < MOST_ROWS && column >= 0 && column < MOST_COLUMNS) || cell === '') return
      left -= Math.min(cell.length, MOST_CELL)
      if (left < 0) throw new Unreadable('This file holds more text than a table of five thousand rows.')
      while (rows.length <= row) rows.push([])
      const own = rows[row] ?? []
      while (own.length < column) own.push('')
      own[column] = cell.slice(0, MOST_CELL).replaceAll(/\s+/g, ' ').trim()
    },
  }
}

// Office Open XML

function readOfficeOpen(book: ReadonlyMap<string, string>): Sheet[] {
  const workbook = book.get('xl/workbook.xml')
  if (workbook === undefined) throw new Unreadable('This is an archive, and no spreadsheet that can be read here.')
  const targets = new Map<string, string>()
  hear(book.get('xl/_rels/workbook.xml.rels') ?? '<none/>', {
    open: ({ name, attributes: { Id: id, Target: target } }) => {
      if (name === 'Relationship' && id && target) targets.set(id, target)
    },
  })
  const named: { name: string; path: string }[] = []
  let is1904 = false
  hear(workbook, {
    open: ({ name, attributes }) => {
      if (name === 'workbookPr') is1904 = ['1', 'true'].includes(attributes.date1904 ?? '')
      if (name !== 'sheet') return
      const target = targets.get(attributes['r:id'] ?? '') ?? ''
      named.push({ name: attributes.name ?? '', path: target.startsWith('/') ? target.slice(1) : `xl/${target}` })
    },
  })
  const shared = sharedStrings(book.get('xl/sharedStrings.xml'))
  const isDay = dayStyles(book.get('xl/styles.xml'))
  return named.slice(0, MOST_SHEETS).flatMap(({ name, path }) => {
    const xml = book.get(path)
    return xml === undefined ? [] : [{ name, rows: officeRows(xml, shared, isDay, is1904) }]
  })
}

function sharedStrings(xml: string | undefined): string[] {
  const all: string[] = []
  if (xml === undefined) return all
  let now: string | null = null
  let isText = false
  let isPhonetic = false
  hear(xml, {
    open: ({ name }) => {
      if (name === 'si') now = ''
      if (name === 'rPh') isPhonetic = true
      isText = name === 't' && !isPhonetic
    },
    text: (text) => {
      if (isText && now !== null && now.length < MOST_CELL) now += text
    },
    close: (name) => {
      if (name === 't') isText = false
      if (name === 'rPh') isPhonetic = false
      if (name !== 'si') return
      if (all.length >= MOST_SHARED) throw new Unreadable('This file holds more texts than a table of five thousand rows.')
      all.push(now ?? '')
      now = null
    },
  })
  return all
}

/** ECMA-376 part 1, 18.8.30: formats 14 to 17 and 22 show a day; of one's own, those that write a year or a day. */
function dayStyles(xml: string | undefined): (style: number) => boolean {
  const days = new Set([14, 15, 16, 17, 22])
  const styles: number[] = []
  let isCell = false
  hear(xml ?? '<none/>', {
    open: ({ name, attributes }) => {
      const code = (attributes.formatCode ?? '').replaceAll(/"[^"]{0,60}"|\[[^\]]{0,60}\]|\\./g, '')
      if (name === 'numFmt' && /[yd]/i.test(code)) days.add(Number(attributes.numFmtId))
      if (name === 'cellXfs') isCell = true
      if (name === 'xf' && isCell) styles.push(Number(attributes.numFmtId ?? 0))
    },
    close: (name) => {
      if (name === 'cellXfs') isCell = false
    },
  })
  return (style) => days.has(styles[style] ?? 0)
}

function officeRows(xml: string, shared: readonly string[], isDay: (style: number) => boolean, is1904: boolean): string[][] {
  const { rows, put } = openRows()
  let row = -1
  let column = -1
  let type = 'n'
  let style = 0
  let value: string | null = null
  let said = ''
  hear(xml, {
    open: ({ name, attributes }) => {
      if (name === 'row') {
        row = attributes.r === undefined ? row + 1 : Number(attributes.r) - 1
        column = -1
      }
      if (name === 'c') {
        column = attributes.r === undefined ? column + 1 : columnOf(attributes.r)
        type = attributes.t ?? 'n'
        style = Number(attributes.s ?? 0)
        said = ''
      }
      // A formula is passed over: what it last came to stands beside it.
      if (name === 'v' || name === 't') value = ''
    },
    text: (text) => {
      if (value !== null && value.length < MOST_CELL) value += text
    },
    close: (name) => {
      if (name === 'v' || name === 't') {
        said += value ?? ''
        value = null
      }
      if (name === 'c') put(row, column, officeCell(said, type, isDay(style), { shared, is1904 }))
    },
  })
  return rows
}

function officeCell(
  said: string,
  type: string,
  isDay: boolean,
  { shared, is1904 }: { shared: readonly string[]; is1904: boolean },
): string {
  if (said === '') return ''
  if (type === 's') return shared[Number(said)] ?? ''
  if (type === 'b') return said === '1' ? 'yes' : 'no'
  if (type !== 'n') return said
  const figure = Number(said)
  if (!Number.isFinite(figure)) return said
  return isDay && figure >= 1 ? dayOf(figure, is1904) : String(Number(figure.toPrecision(15)))
}

/** A day counted from the last of 1899, or of 1903 in a workbook that says so; ECMA-376 part 1, 18.17.4.1. */
function dayOf(figure: number, is1904: boolean): string {
  const from = is1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, 30)
  const at = new Date(from + Math.floor(figure) * 86_400_000)
  return Number.isNaN(at.getTime()) ? String(figure) : at.toISOString().slice(0, 10)
}

/** "AB12" is in column 27. */
function columnOf(reference: string): number {
  let column = 0
  for (const letter of reference.slice(0, 4)) {
    if (letter < 'A' || letter > 'Z') break
    column = column * 26 + letter.charCodeAt(0) - 64
  }
  return column - 1
}

// OpenDocument

function readOpenDocument(book: ReadonlyMap<string, string>): Sheet[] {
  const sheets: Sheet[] = []
  let table: ReturnType<typeof openRows> | null = null
  let row = 0
  let column = 0
  let rowTimes = 1
  let cell: { times: number; value: string | null; text: string[] } | null = null
  let isParagraph = false
  let annotation = 0
  const timesOf = (written: string | undefined) => Math.min(Math.max(1, Number(written ?? 1) || 1), 1_100_000)
  hear(book.get('content.xml') ?? '<none/>', {
    open: ({ name, attributes }) => {
      if (name === 'table') {
        if (sheets.length >= MOST_SHEETS) throw new Unreadable(`This file holds more than ${MOST_SHEETS} sheets.`)
        table = openRows()
        sheets.push({ name: attributes['table:name'] ?? '', rows: table.rows })
        row = 0
      }
      if (name === 'table-row') {
        column = 0
        rowTimes = timesOf(attributes['table:number-rows-repeated'])
      }
      if (name === 'table-cell' || name === 'covered-table-cell')
        cell = {
          times: timesOf(attributes['table:number-columns-repeated']),
          value: openValue(attributes as Record<string, string>),
          text: [],
        }
      if (name === 'annotation') annotation += 1
      if (name === 'p' && cell && annotation === 0) {
        isParagraph = true
        cell.text.push('')
      }
      if (name === 's' && isParagraph && cell) cell.text.push(`${cell.text.pop() ?? ''} `)
    },
    text: (text) => {
      if (isParagraph && cell && annotation === 0) cell.text.push(((cell.text.pop() ?? '') + text).slice(0, MOST_CELL))
    },
    close: (name) => {
      if (name === 'annotation') annotation -= 1
      if (name === 'p') isParagraph = false
      if ((name === 'table-cell' || name === 'covered-table-cell') && cell) {
        const said = cell.value ?? cell.text.join(' ')
        for (let at = column; said !== '' && at < Math.min(column + cell.times, MOST_COLUMNS); at++)
          for (let down = row; down < Math.min(row + rowTimes, MOST_ROWS); down++) table?.put(down, at, said)
        column += cell.times
        cell = null
      }
      if (name === 'table-row') row += rowTimes
      if (name === 'table') table = null
    },
  })
  return sheets
}

/** OpenDocument part 3, 19.387: days and figures by their value, whatever they look like. */
function openValue(attributes: Record<string, string>): string | null {
  const type = attributes['office:value-type']
  if (type === 'date') return attributes['office:date-value'] ?? null
  if (type === 'boolean') return attributes['office:boolean-value'] === 'true' ? 'yes' : 'no'
  if (type === 'float' || type === 'currency') return attributes['office:value'] ?? null
  return null
}
