import { csvFile, type SavedFile } from '#kernel/csv'
import { toIso } from '#kernel/instant'
import type { Sight } from '#runtime/queue/turn'
import { readBuild } from './build.service'
import type { Builder } from './builder'

/** What is short as a table for the staff; nothing in it is run by a spreadsheet. */
export async function exportShortfall(sight: Sight, builder: Builder): Promise<SavedFile> {
  const { shortfall } = await readBuild(sight, builder)
  const head = ['part', 'short', 'on its way', 'promised', 'to be asked for', 'not read yet', 'in quarantine', 'units']
  const rows = shortfall.map(({ part, short, onItsWay, promised, missing, unread, quarantined, units }) => {
    return [part.words, short, onItsWay, promised, missing, unread, quarantined, units.join(' ')]
  })
  return csvFile(`shortfall-${toIso(sight.now).slice(0, 10)}.csv`, head, rows)
}
