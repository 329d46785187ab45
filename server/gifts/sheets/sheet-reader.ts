import { Refusal } from '#kernel/refusal'
import { ThreadEnded, type Workshop } from '#runtime/workers/workers'
import { readSheet, type SheetOrder, type SheetReading } from './sheet-reading'

/** Reads spreadsheets, on a thread of its own: bids must not wait for a sheet of thousands of rows, nor for one that was made to take long. */
export type SheetReader = Pick<Workshop<SheetOrder, SheetReading>, 'make' | 'stop' | 'close'>

declare module '#runtime/call/base' {
  interface Opened {
    sheetReader: SheetReader
  }
}

/** Reads on the thread of whoever asks: for tests. */
export const readSheetOnThisThread: SheetReader = { make: readSheet, stop: () => {}, close: () => {} }

/** A sheet that takes longer than this was made to. */
const MOST_MS = 20_000
/** What the thread may hold beside the sheet itself. */
export const MOST_SHEET_MEGABYTES = 384

/** Reads a sheet; refused in words where it takes too long or too much memory. */
export async function readWithin(reader: SheetReader, order: SheetOrder, mostMs = MOST_MS): Promise<SheetReading> {
  const timer = setTimeout(() => reader.stop(), mostMs)
  try {
    return await reader.make(order)
  } catch (reason) {
    if (!(reason instanceof ThreadEnded)) throw reason
    throw Refusal.at(
      'file',
      'This file is too much work to read. Save the one sheet that matters as CSV, or bring it in parts.',
      'too-large',
    )
  } finally {
    clearTimeout(timer)
  }
}
