import type { Sealing } from '#runtime/queue/sealing'
import { ofBid, ofCap, ofLink, ofReserve, openFigure, sealFigure } from './sealed-figures'

// Rows of the database as a reader without the key has them, and back again.

type Cell = string | number | null
type Row = Readonly<Record<string, Cell>>

interface Place {
  /** The column in which it lies sealed, and the names under which it stands opened. */
  sealed: string
  amount: string
  nonce?: string
  boundTo(row: Row, numberOf: (lotId: Cell) => number): string
}

const PLACES: Readonly<Record<string, Place>> = {
  bid: {
    sealed: 'sealed',
    amount: 'maximum_minor',
    nonce: 'nonce',
    boundTo: ({ lot_id = null, sequence }, numberOf) => ofBid(numberOf(lot_id), Number(sequence)),
  },
  lot: { sealed: 'sealed_reserve', amount: 'reserve_minor', nonce: 'reserve_nonce', boundTo: ({ number }) => ofReserve(Number(number)) },
  chain: { sealed: 'sealed_cap', amount: 'cap_minor', boundTo: ({ id }) => ofCap(String(id)) },
  chain_link: {
    sealed: 'sealed',
    amount: 'maximum_minor',
    boundTo: ({ chain_id, place, lot_id = null }, numberOf) => ofLink(String(chain_id), Number(place), numberOf(lot_id)),
  },
}

/** Opens and seals rows of a house; `numberOf` is the number of a lot by its id. */
export function sealedRows(keys: Sealing, numberOf: (lotId: Cell) => number) {
  return {
    /** A row with what is sealed in it opened; with nothing in its place where it was taken away. */
    opened(table: string, row: Row): Record<string, Cell> {
      const place = PLACES[table]
      if (!place || !(place.sealed in row)) return row
      const { [place.sealed]: sealed, ...open } = row
      const figure = typeof sealed === 'string' ? openFigure(keys, place.boundTo(row, numberOf), sealed) : null
      return { ...open, [place.amount]: figure?.amountMinor ?? null, ...(place.nonce && { [place.nonce]: figure?.nonce ?? null }) }
    },
    /** The same back again, by the key of this house. A row of an earlier step of the database stays as it is: a step seals it. */
    sealed(table: string, row: Row, columns: readonly string[]): Record<string, Cell> {
      const place = PLACES[table]
      if (!place || !columns.includes(place.sealed)) return row
      const { [place.amount]: amount, [place.nonce ?? '']: nonce, ...rest } = row
      const sealed = typeof amount === 'number' ? sealFigure(keys, place.boundTo(row, numberOf), amount, String(nonce ?? '')) : null
      return { ...rest, [place.sealed]: sealed }
    },
  }
}
