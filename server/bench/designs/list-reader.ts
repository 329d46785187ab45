import type { Workshop } from '#runtime/workers/workers'
import { type ListOrder, type ListsRead, readLists } from './list-reading'

/** Reads lists of a design, on a thread of its own: bids must not wait for a list of thousands of rows. */
export type ListReader = Pick<Workshop<ListOrder, ListsRead>, 'make' | 'close'>

declare module '#runtime/call/base' {
  interface Opened {
    listReader: ListReader
  }
}

/** Reads on the thread of whoever asks: for tests. */
export const readOnThisThread: ListReader = { make: async (order) => readLists(order), close: () => {} }
