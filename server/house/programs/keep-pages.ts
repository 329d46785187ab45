import { join } from 'node:path'
import { type KeptPages, openKeptPages } from '#doors/pages/kept-pages'
import type { MadePage, PageOrder } from '#doors/pages/made-page'
import { openWorkshop } from '#runtime/workers/workers'
import type { House } from '../open/parts'
import type { PageWorkerParts } from './page-worker'

/** The pages that are the same for everybody are made on a thread of their own, which reads what was committed, and kept. */
export function keepPages(house: House, { dataDir, publicUrl, isDemo, root, logLevel }: Omit<PageWorkerParts, 'jwks'>): KeptPages {
  const given: PageWorkerParts = { dataDir, publicUrl, isDemo, jwks: house.keys.jwks(), root, logLevel }
  const shop = openWorkshop<PageOrder, MadePage | null>({ entry: join(root, 'dist', 'page-worker.mjs'), log: house.log, given })
  const keptPages = openKeptPages({ shop, now: () => house.clock.now(), trouble: () => house.trouble() })
  house.hearFirst(keptPages.touch)
  return keptPages
}
