import { campaignNumber } from '#people/campaign/which.service'
import type { Sight } from '#runtime/queue/turn'
import type { Posting } from './journal.rules'
import * as store from './journal.store'

export type EntryRow = store.EntryRow
export type JournalRow = store.JournalRow

type Reader = Pick<Sight, 'db' | 'campaign'>

/** The journal of the campaign in the order in which it was written. */
export const readJournal = (sight: Reader): JournalRow[] => store.readJournal(sight.db, campaignNumber(sight))

export const findEntry = ({ db }: Reader, id: string): EntryRow | null => store.findEntry(db, id)

/** The entry that takes this one back; null while it stands. */
export const findCorrectionOf = ({ db }: Reader, id: string): EntryRow | null => store.findCorrectionOf(db, id)

export const listLotEntries = ({ db }: Reader, lotId: string): EntryRow[] => store.findLotEntries(db, lotId)

export const readPostings = ({ db }: Reader, entryId: string): Posting[] => store.readPostings(db, entryId)
