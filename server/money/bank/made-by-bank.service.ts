import type { Sight } from '#runtime/queue/turn'
import * as store from './bank.store'

/** Entries that were booked because of a line of the bank: their reference is what the bank wrote, which may name who paid. */
export const listMadeByBank = ({ db }: Sight): ReadonlySet<string> =>
  new Set(store.listMatches(db).flatMap(({ entryId, isMade }) => (isMade ? [entryId] : [])))
