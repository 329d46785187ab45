import type { Db } from '#db/open'
import { ALL_GOES, expressionFor, type Going } from './contact-data.rules'
import * as store from './contact-data.store'
import type { Deleted } from './deletion.contract'

/**
 * Deletes contact data from a database, the house's own or a copy. The caller has begun a transaction, or owns the copy.
 * Answers how much of each kind was deleted, and the photographs whose files are to go as well.
 */
export function deleteContactsFrom(db: Db, going: Going): Deleted {
  store.overwriteDeleted(db)
  const wanted = expressionFor(store.knownAddresses(db, going))
  const photographs = store.photographsGoing(db, going)
  const counts: Record<string, number> = {}
  for (const step of store.stepsOf(db, going)) {
    const changed = store.doStep(db, step)
    if (changed > 0) counts[step.what] = changed
  }
  store.dropPhotographs(db, photographs)
  // An address may have been typed anywhere else too: into notes, reasons, facts. Everything is found before anything is written over.
  const found = wanted ? [...store.findTexts(db, wanted)] : []
  const written = wanted ? found.filter((cell) => store.writeOver(db, cell, wanted)).length : 0
  if (written > 0) counts['addresses that stood in other texts'] = written
  return { counts, photographs }
}

/** The same for a pack without contact data, on the copy that it is made from. Addresses on invoices, which the house keeps, go from it too. Answers the photographs that stay out of it. */
export function deleteContactsInCopy(copy: Db): Set<string> {
  store.blankInvoiceAddresses(copy)
  return new Set(deleteContactsFrom(copy, ALL_GOES).photographs)
}
