import { randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { eq } from 'drizzle-orm'
import { lot } from '#db/schema/index'
import { enterFolder } from '#runtime/disk/swap'
import { KEYS_FILE } from '#runtime/elsewhere/sealed-keys'
import { wallClock } from '#runtime/queue/stamp'
import type { CopySettings } from '#runtime/settings/copy-settings'
import { openLog } from '#runtime/settings/log'
import { openHouse } from '../open/house'
import type { House } from '../open/parts'
import { copyForRehearsal } from '../rehearsal/copy'
import { prepareCopy } from '../rehearsal/prepare'
import { type DrillWishes, drill } from './drill'
import type { DrillReport } from './drill-words.rules'
import { openGrowing } from './grown-house'
import { makeScratch } from './scratch'

/** Bids that go on while the copy is tried, so that it is known how much of them it has. */
const BIDS_A_SECOND = 20
const LONGEST_COPY_MS = 600_000

export interface GrownReport {
  bids: number
  refused: number
  lots: number
  bidders: number
  grownMs: number
  /** From when the copying began until the copy was seconds old. */
  copiedMs: number
  drilled: DrillReport
}

export interface GrownWishes extends Pick<DrillWishes, 'dataDir' | 'migrationsDir' | 'publicUrl' | 'tell' | 'signal'> {
  bids: number
  /** How many bidders on how many lots there are; more where nothing is said. */
  pairs?: number
  means: CopySettings['means']
  /** The bundle of the thread that looks whether what is kept is as it was written: of so many bids that takes minutes. */
  lookWorker?: string
  say(words: string): void
}

/**
 * A drill of a house that has grown: what a rehearsal is given of this one, with so many bids in it, a copy kept of that while bids go on,
 * and the copy brought up. The house itself is only read.
 */
export async function drillGrown({ bids, pairs, means, lookWorker, say, ...wishes }: GrownWishes): Promise<GrownReport> {
  const scratch = makeScratch()
  const [grown, place] = [join(scratch, 'grown'), join(scratch, 'place')]
  const passphrase = randomBytes(24).toString('base64url')
  const to = { kind: 'folder', path: place } as const
  const { dataDir, migrationsDir, publicUrl, signal } = wishes
  const open = (copy: CopySettings | null) =>
    openHouse({
      dataDir: grown,
      migrationsDir,
      publicUrl,
      isDemo: false,
      isAlone: true,
      clock: wallClock(),
      log: openLog('silent'),
      copy,
      lookWorker,
    })
  let house: House | null = null
  try {
    const hold = enterFolder(dataDir, 'reads', 'a drill that copies the house', say)
    await copyForRehearsal(dataDir, grown, Date.now()).finally(() => hold.release())
    mkdirSync(place)
    house = open(null)
    await prepareCopy(house)
    // Of a lot that has ended a rehearsal is given the result and no history, which here would be damage.
    house.db.update(lot).set({ openedAt: null }).where(eq(lot.ledgerSize, 0)).run()
    const growing = await openGrowing(house, pairs)
    const began = performance.now()
    let refused = 0
    for (let taken = 0; taken < bids; taken += PART) {
      signal?.throwIfAborted()
      refused += await growing.bid(Math.min(PART, bids - taken))
      if ((taken + PART) % TOLD_EVERY === 0 && taken + PART < bids)
        say(`${taken + PART} bids taken: ${((performance.now() - began) / 1000).toFixed(0)} s.`)
    }
    const grownMs = performance.now() - began
    say(`${bids} bids taken on ${growing.lots} lots by ${growing.bidders} invented bidders: ${(grownMs / 1000).toFixed(0)} s.`)
    house.close()
    house = open({ to, passphrase: { words: passphrase }, means })
    const copiedMs = await copied(house, place, signal)
    say(`A copy of it lies elsewhere, seconds old: ${(copiedMs / 1000).toFixed(1)} s.`)
    const further = await openGrowing(house, pairs)
    const pulse = setInterval(() => void further.bid(1).catch(() => clearInterval(pulse)), 1000 / BIDS_A_SECOND)
    try {
      const drilled = await drill({ ...wishes, dataDir: grown, from: { to, means }, passphrase })
      return { bids, refused, lots: growing.lots, bidders: growing.bidders, grownMs, copiedMs, drilled }
    } finally {
      clearInterval(pulse)
    }
  } finally {
    house?.stopTicking()
    await house?.elsewhere.stop()
    await house?.queue.settle()
    house?.close()
    rmSync(scratch, { recursive: true, force: true })
  }
}

const PART = 1_000
const TOLD_EVERY = 50_000

/** The keys lie there a little later than the database: to derive what encrypts them takes seconds. */
async function copied(house: House, place: string, signal?: AbortSignal): Promise<number> {
  const began = performance.now()
  house.startTicking()
  for (;;) {
    const { ageSeconds, trouble } = house.elsewhere.state()
    if (ageSeconds !== null && ageSeconds <= 2 && existsSync(join(place, KEYS_FILE))) return performance.now() - began
    if (performance.now() - began > LONGEST_COPY_MS) throw new Error(`No copy came to lie elsewhere. ${trouble ?? ''}`.trim())
    signal?.throwIfAborted()
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
}
