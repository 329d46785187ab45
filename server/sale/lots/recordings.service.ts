import { Refusal } from '#kernel/refusal'
import { isRecordingNamed } from '#people/photographs/photograph.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { AddRecordingIn, LotRecording } from './lots.contract'
import { getUnopened, touched } from './prepare.service'
import * as store from './recordings.store'

const MOST_RECORDINGS = 4

/** Adds sound or video of the machine running, while the terms of the lot may still change. */
export function addRecording(turn: Turn, { lot, ...row }: AddRecordingIn): void {
  const { id, ...found } = getUnopened(turn, lot)
  if (store.listRecordings(turn.db, id).length >= MOST_RECORDINGS)
    throw Refusal.at('sha', 'Four recordings are enough. Take one away first.', 'too-many')
  if (!isRecordingNamed(turn, row.sha)) throw Refusal.at('sha', 'Add the recording again: it has not arrived.', 'not-found')
  store.insertRecording(turn.db, id, row)
  touched(turn, found)
}

export function removeRecording(turn: Turn, { lot, seq }: { lot: number; seq: number }): void {
  const row = getUnopened(turn, lot)
  if (store.deleteRecording(turn.db, row.id, seq) === 0) throw Refusal.at('sha', 'That recording is gone already.', 'not-found')
  touched(turn, row)
}

/** What may be heard and seen of a lot, in its order. */
export const getRecordings = (sight: Sight, lotId: string): LotRecording[] =>
  store.listRecordings(sight.db, lotId).map(({ seq: _seq, ...one }) => one)

/** The same with the places by which one of them is taken away, for the maker. */
export const listPlacedRecordings = (sight: Sight, lotId: string) => store.listRecordings(sight.db, lotId)
