import type Database from 'better-sqlite3'
import type { Db } from '#db/open'
import type { OpenHouse } from '#doors/web/open-house'
import type { Clock } from '#kernel/clock'
import type { Dice } from '#kernel/dice'
import type { Instant } from '#kernel/instant'
import type { Elsewhere } from '#runtime/elsewhere/elsewhere'
import type { Machine } from '#runtime/queue/machine'
import type { Recorded } from '#runtime/queue/queue'
import type { Reaction } from '#runtime/queue/reactions'
import type { Keys } from '#runtime/queue/turn'
import type { CopySettings } from '#runtime/settings/copy-settings'
import type { Log } from '#runtime/settings/log'
import type { Publishing } from '#runtime/standby/publishing'
import type { Looks } from './looks'
import type { Bundles } from './workshops'

/** An open house, as the programs have it: what its door sees, and what opens and closes it. */
export interface House extends OpenHouse {
  db: Db
  keys: Keys
  /** What is told to machines that stand by, where there are any: nothing is taken before it has begun. */
  publishing: Publishing | null
  /** Starts what happens by itself: the sweeps and the note of each second that the house is alive. */
  startTicking(): void
  /** Looks again at what is due when. */
  wake(): void
  /** From now on told of everything that was committed, before any screen is. */
  hearFirst(listener: (facts: readonly Recorded[]) => void): void
  /** The copy that is kept elsewhere. */
  elsewhere: Elsewhere
  /** Whether what is kept is as it was written. */
  looks: Looks
  /** Nothing happens by itself any more. */
  stopTicking(): void
  close(): void
}

export interface HouseParts extends Bundles {
  dataDir: string
  migrationsDir: string
  publicUrl: string
  isDemo: boolean
  clock: Clock
  log: Log
  dice?: Dice
  /** The bundle of the thread that makes packs; without it they are made on the house's own. */
  packWorker?: string
  /** The bundle of the thread that copies the house on the day; without it the copies are made on the house's own. */
  copyWorker?: string
  /** The bundle of the thread that looks whether what is kept is as it was written; without it this is done on the house's own. */
  lookWorker?: string
  /** What follows a fact in the same turn. */
  reactions?: readonly Reaction[]
  /** Files that the system lets this program hold open; read from it unless given. */
  mostOpenFiles?: number
  /** Which build serves its pages, as its streams say. */
  build?: string
  /** A copy on which the day is rehearsed. */
  isRehearsal?: boolean
  /** What goes by on this machine, whatever its wall says. */
  machine?: Machine
  /** The wall clock with which the house's own is compared. */
  wall?(): Instant
  /** Somebody says that the clock is right though it stands before what was done last. */
  isClockRight?: boolean
  /** Somebody says that what stands after a damage in the database's log may be lost. */
  mayLoseLog?: boolean
  /** Somebody says that no other machine writes for this house any more. */
  isAlone?: boolean
  /** Where a copy is kept, always; none of a rehearsal. */
  copy?: CopySettings | null
  /** Called when the disk has failed: nothing is taken any more, and whoever watches over the house should open it again. */
  ended?(): void
  /** Opens what is told to machines that stand by; `said` is called whenever its trouble has changed. */
  openPublishing?(parts: { handle: Database.Database; keys: Keys; log: Log; said(): void }): Publishing
}
