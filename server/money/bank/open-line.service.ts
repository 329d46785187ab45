import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import * as store from './bank.store'

/** A line that waits for its place. Refuses at `lineId`. */
export function getOpenLine(sight: Sight, id: string): store.LineRow {
  const row = store.findLine(sight.db, id)
  if (!row) throw Refusal.at('lineId', 'There is no such line. Reload the page.', 'not-found')
  if (row.state !== 'open') throw Refusal.at('lineId', 'That line has already been allocated. Reload the page.', 'conflict')
  return row
}
