import { existsSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { openDatabase } from '#db/open'
import { DATABASE } from '#runtime/disk/house-files'
import { firstKeyIn, openKeys } from '#runtime/disk/keys'
import { restoreBackup } from '#runtime/disk/restore'
import { fetchCopy } from '#runtime/elsewhere/fetch-copy'
import type { CopySettings } from '#runtime/settings/copy-settings'
import { damageThroughout } from '#sale/bids/whole-look.service'
import type { DrillReport, Part } from './drill-words.rules'
import { makeScratch } from './scratch'
import { openStandingHouse, type Reached, type StandingHouse } from './standing-house'
import { wouldServe } from './would-serve'

export interface DrillWishes {
  /** Where the house stands that the copy is of. It is only read. */
  dataDir: string
  from: Pick<CopySettings, 'to' | 'means'>
  passphrase: string
  migrationsDir: string
  publicUrl: string
  /** Told what a step was and how long it took, as it ends. */
  tell?(part: Part): void
  /** Ends it early. What it made is taken away all the same. */
  signal?: AbortSignal
}

/**
 * Brings the house up from its copy as somebody would have to, in a folder of its own that is taken away afterwards, and says what
 * came of it. Throws, in words, where the copy cannot be fetched or put in place.
 */
export async function drill(wishes: DrillWishes): Promise<DrillReport> {
  const scratch = makeScratch()
  let standing: StandingHouse | null = null
  try {
    standing = openStandingHouse(wishes.dataDir, scratch)
    return await drillIn(scratch, standing, wishes)
  } finally {
    standing?.close()
    rmSync(scratch, { recursive: true, force: true })
  }
}

async function drillIn(scratch: string, standing: StandingHouse | null, wishes: DrillWishes): Promise<DrillReport> {
  const { dataDir, from, passphrase, migrationsDir, publicUrl, tell = () => {}, signal } = wishes
  const parts: Part[] = []
  let last = performance.now()
  const ended = (step: Part['step']) => {
    const part = { step, ms: performance.now() - last }
    last = performance.now()
    if (part.step === 'look') return
    parts.push(part)
    tell(part)
  }
  let step: Part['step'] = 'look'
  let listed: Reached = { seq: 0, at: 0 }
  const [fetchedDir, houseDir] = [join(scratch, 'fetched'), join(scratch, 'house')]
  const fetched = await fetchCopy({
    from: from.to,
    settings: from.means,
    passphrase,
    into: fetchedDir,
    house: existsSync(join(dataDir, 'keys')) ? firstKeyIn(join(dataDir, 'keys')) : null,
    tell(next) {
      signal?.throwIfAborted()
      // What is done after this instant cannot be in what is fetched, and counts as lost no more.
      if (next === 'listed') listed = standing?.reached() ?? listed
      else {
        ended(step)
        step = next
      }
    },
  })
  ended(step)
  restoreBackup(fetchedDir, houseDir, { migrationsDir, at: Date.now() })
  ended('put')
  const bytes = statSync(join(houseDir, DATABASE)).size
  const compared = standing?.compare(join(fetchedDir, DATABASE), listed) ?? null
  ended('compare')
  signal?.throwIfAborted()
  const serving = await wouldServe(houseDir, publicUrl, signal)
  ended('serve')
  const damages = serving.is === 'serving' ? damagesIn(houseDir, migrationsDir) : { lots: 0, damages: [] }
  ended('lots')
  return { parts, bytes, newestAt: fetched.newestAt, photographs: fetched.photographs, compared, serving, ...damages }
}

/** What the house looks through once a day, of every lot that has a history: one that never opened has none to be damaged. */
function damagesIn(dataDir: string, migrationsDir: string): Pick<DrillReport, 'lots' | 'damages'> {
  const { db, handle } = openDatabase(join(dataDir, DATABASE), migrationsDir, {})
  try {
    const sight = { db, now: Date.now(), publicUrl: '', keys: openKeys(join(dataDir, 'keys')) }
    const looked = [...damageThroughout(sight)]
    const damages = looked.flatMap((found) => (found ? [found.lot === null ? found.words : `Lot ${found.lot}: ${found.words}`] : []))
    return { lots: looked.length, damages }
  } finally {
    handle.close()
  }
}
