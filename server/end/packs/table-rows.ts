import { z } from 'zod'
import type { PackedRow } from './manifest.contract'

/** No row of a house comes near it: the longest hold a record that was signed, or a letter. */
const LONGEST_ROW_BYTES = 4 * 1024 * 1024

const rowShape: z.ZodType<PackedRow> = z.record(z.string().max(200), z.union([z.string(), z.number(), z.null()]))

/** The rows of a table as they come out of its file, one on each line, so that one at a time is in memory. Throws in words what is no such list. */
export async function* rowsOfTable(path: string, chunks: AsyncIterable<Uint8Array>): AsyncGenerator<PackedRow> {
  const wrong = (cause?: unknown) => new Error(`The pack is damaged: ${path} is not a list with one row on each line.`, { cause })
  let count = 0
  let isOver = false
  let isOpen = false
  for await (const line of linesOf(path, chunks)) {
    if (isOver) throw wrong()
    if (!isOpen) {
      // An empty list stands on one line.
      if (line !== '[' && line !== '[]') throw wrong()
      isOpen = line === '['
      isOver = !isOpen
    } else if (line === ']') isOver = true
    else {
      count += 1
      yield rowIn(line.endsWith(',') ? line.slice(0, -1) : line, (cause) => {
        throw new Error(`The pack is damaged: row ${count} of ${path} is no row.`, { cause })
      })
    }
  }
  if (!isOver) throw wrong()
}

function rowIn(text: string, refuse: (cause?: unknown) => never): PackedRow {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch (cause) {
    return refuse(cause)
  }
  const row = rowShape.safeParse(value)
  return row.success ? row.data : refuse(row.error)
}

const LINE_FEED = 0x0a

async function* linesOf(path: string, chunks: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  let begun: Uint8Array[] = []
  let size = 0
  for await (const chunk of chunks) {
    let from = 0
    for (let end = chunk.indexOf(LINE_FEED); end !== -1; end = chunk.indexOf(LINE_FEED, from)) {
      yield Buffer.concat([...begun, chunk.subarray(from, end)]).toString('utf8')
      begun = []
      size = 0
      from = end + 1
    }
    if (from === chunk.byteLength) continue
    begun.push(chunk.subarray(from))
    size += chunk.byteLength - from
    if (size > LONGEST_ROW_BYTES)
      throw new Error(`The pack is damaged: ${path} has a row of more than ${LONGEST_ROW_BYTES / 1024 / 1024} MB, which no house has.`)
  }
  if (size > 0) yield Buffer.concat(begun).toString('utf8')
}
