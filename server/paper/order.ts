import type { PaperSize } from './paper'
import type { PictureOrder } from './picture'

/**
 * Everything that can be set in print, by the word that its order carries in `of`. An order is plain data, since it goes to
 * another thread, and the same order gives the same bytes. The kit names its own picture only. A room that has a paper adds
 * the order for it beside where that is set:
 *
 *     declare module '#paper/order' {
 *       interface Papers { invoice: InvoiceOrder }
 *     }
 *
 * So the kit knows none of the rooms above it; how each is set stands in `doors/papers`, and the compiler asks for every one.
 */
export interface Papers {
  picture: PictureOrder
}

export type PaperOrder = Papers[keyof Papers]

/** What every order for sheets of words says. */
export interface SheetOrder {
  size: PaperSize
  author: string
  /** Stands in the file as its date, in milliseconds. */
  at: number
}
