import { certificateGap } from '#bench/certificates/gap.service'
import { groupBy } from '#kernel/group'
import type { Instant } from '#kernel/instant'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { FixedPrice } from './fixed-price.contract'
import { shownPrice, whyNoNewLot } from './fixed-price.rules'
import * as store from './fixed-price.store'

export type FixedPriceRow = store.FixedPriceRow

interface LotInShort {
  id: string
  state: string
  unitId: string
  unitTag: string
}

/** Nothing is asked for a lot that has not ended: a bid does not wait for it. */
const hasEnded = ({ state }: LotInShort): boolean => state === 'sold' || state === 'unsold' || state === 'withdrawn'

const shown = (sight: Sight, lot: LotInShort, rows: readonly store.FixedPriceRow[]): FixedPrice | null =>
  rows.length === 0 ? null : shownPrice(rows, () => certificateGap(sight, lot) === null)

export const fixedPriceOf = (sight: Sight, lot: LotInShort): FixedPrice | null =>
  hasEnded(lot) ? shown(sight, lot, store.listOfLot(sight.db, lot.id)) : null

/** The same for many lots with one question. */
export function fixedPrices(sight: Sight): (lot: LotInShort) => FixedPrice | null {
  const rows = groupBy(store.listAll(sight.db), ({ lotId }) => lotId)
  return (lot) => shown(sight, lot, rows.get(lot.id) ?? [])
}

/** Why its unit cannot go into a new lot; null where nothing of this one keeps it. */
export const whyKept = (sight: Sight, lot: LotInShort & { number: number }): string | null => {
  const is = store.findStanding(sight.db, lot.id) ? 'to be had' : fixedPriceOf(sight, lot)?.is
  return is === undefined ? null : whyNoNewLot(lot.unitTag, lot.number, is)
}

/** Every price that was set for a lot, the newest first. */
export const listFixedPrices = ({ db }: Pick<Sight, 'db'>, lotId: string): FixedPriceRow[] => store.listOfLot(db, lotId)
export const findStandingPrice = ({ db }: Pick<Sight, 'db'>, lotId: string): FixedPriceRow | null => store.findStanding(db, lotId) ?? null
export const listStandingPrices = ({ db }: Pick<Sight, 'db'>): FixedPriceRow[] => store.listStanding(db)

/** The entries of the prices at which lots went so. */
export const fixedPriceEntries = ({ db }: Pick<Sight, 'db'>): Set<string> =>
  new Set(store.listAll(db).flatMap(({ entryId }) => entryId ?? []))

/** What the room next door has decided is written here. */
export const setPrice = (turn: Turn, row: Omit<FixedPriceRow, 'ended' | 'endedAt' | 'entryId' | 'fellThroughAt'>): void =>
  store.insert(turn.db, row)
export const changePrice = (turn: Turn, id: string, to: Pick<FixedPriceRow, 'priceMinor' | 'lastDay' | 'openUntil' | 'terms'>): void =>
  store.change(turn.db, id, to)
export const endPrice = (turn: Turn, id: string, ended: 'taken back' | 'over'): void => store.end(turn.db, id, ended, turn.now)
export const priceTaken = (turn: Turn, id: string, entryId: string): void => store.end(turn.db, id, 'taken', turn.now, entryId)
export const noteFallenThrough = (turn: Turn, id: string, at: Instant | null): void => store.change(turn.db, id, { fellThroughAt: at })
