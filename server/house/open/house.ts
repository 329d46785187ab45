import { randomUUID } from 'node:crypto'
import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import { NO_REHEARSAL } from '#air/rehearsal/rehearsal'
import { type Builder, buildOnThisThread } from '#bench/buildable/builder'
import { type Db, openDatabase } from '#db/open'
import { letter } from '#db/schema/index'
import { refuseLater, standingIn } from '#db/steps'
import { onThisThread, openPress } from '#doors/papers/press'
import type { OpenHouse } from '#doors/web/open-house'
import { REACTIONS } from '#doors/web/reactions'
import { SWEEPS } from '#doors/web/sweeps'
import { LIVE_TOPICS } from '#doors/web/topics'
import { openDataFolder } from '#end/deletion/data-folder'
import { openPacker, packOnThisThread } from '#end/packs/packer'
import { notePack } from '#end/packs/packs.service'
import type { Clock } from '#kernel/clock'
import type { Dice } from '#kernel/dice'
import { type Instant, MINUTE } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import { sealWords } from '#people/outbox/sealed-words'
import { isPhotographNamed } from '#people/photographs/photograph.service'
import { sealCode } from '#people/sign-in/sealed-code'
import { openSignIn } from '#people/sign-in/sign-in'
import { openVitalLetters } from '#people/vitals/vital-letters.service'
import { openFloods } from '#runtime/call/flood'
import { openUnnamedProxy } from '#runtime/call/unnamed-proxy'
import { refuseDamagedLog } from '#runtime/disk/damaged-log'
import { openDatabaseLog } from '#runtime/disk/database-log'
import { openPhotographs } from '#runtime/disk/files'
import type { Hold } from '#runtime/disk/hold'
import { DATABASE } from '#runtime/disk/house-files'
import { openKeys, openSecret, SESSION_SECRET } from '#runtime/disk/keys'
import { refuseReadableByOthers } from '#runtime/disk/owner-alone'
import { noteSealedBy, refuseOtherKey } from '#runtime/disk/sealed-by'
import { freeOn, openSpare } from '#runtime/disk/spare'
import { enterFolder } from '#runtime/disk/swap'
import { type Elsewhere, NOWHERE, openElsewhere } from '#runtime/elsewhere/elsewhere'
import { openHub } from '#runtime/live/hub'
import { openOpenFiles } from '#runtime/live/open-files'
import { noteAlive } from '#runtime/queue/alive'
import { type Machine, openMachine } from '#runtime/queue/machine'
import { pooledBytes } from '#runtime/queue/pooled-bytes'
import { openQueue, type Recorded } from '#runtime/queue/queue'
import { type Reaction, reactionsOf } from '#runtime/queue/reactions'
import { stampsFrom } from '#runtime/queue/stamp'
import { openTicker, type Ticker } from '#runtime/queue/ticker'
import type { Keys, Sight, Turn } from '#runtime/queue/turn'
import type { CopySettings } from '#runtime/settings/copy-settings'
import type { Log } from '#runtime/settings/log'
import { refuseOvertaken } from '#runtime/standby/overtaken'
import type { Publishing } from '#runtime/standby/publishing'
import type { StoringTrouble } from '#runtime/vitals/going.rules'
import { houseWatched } from '#runtime/vitals/house-watched'
import { watchLoop } from '#runtime/vitals/loop-lag'
import { machinesWatched } from '#runtime/vitals/machines-watched'
import { openVitals } from '#runtime/vitals/vitals'
import { openWorkshop } from '#runtime/workers/workers'
import { sealingSteps } from '#sale/lots/sealing-steps'
import { openPlanner, planOnThisThread } from '#sale/planning/planner'
import { closingsFirst } from '#sale/programme/closings-first'
import { openSimulator, playOnThisThread } from '#sale/simulation/simulator'
import { copyBeforeSteps } from './copy-before-steps'
import { copyWatched } from './copy-watched'
import { openDayCopies } from './day-copies'
import { type Looks, openLooks } from './looks'
import { PACK_MEANS } from './pack-means'
import { startingStamp } from './starting-stamp'

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
  /** The copy that is kept elsewhere. */
  elsewhere: Elsewhere
  /** Whether what is kept is as it was written. */
  looks: Looks
  /** Nothing happens by itself any more. */
  stopTicking(): void
  close(): void
}

/** What every screen says while nothing can be stored. Closings wait; they count as an outage when there is room again. */
const FULL_DISK =
  'The disk of this house is full: no bid, reading or payment is taken until there is room. Whoever runs the machine is needed. A closing whose last minutes are lost moves.'
const BROKEN = 'The disk of this house failed: nothing is taken any more until the house has been opened again.'

const SPARE_EVERY_MS = MINUTE
/** With less a bid may find none, though something smaller does. */
const ROOM_TO_GO_ON = 1024 * 1024

const systemDice: Dice = { bytes: pooledBytes(4096), id: () => randomUUID() }

export interface HouseParts {
  dataDir: string
  migrationsDir: string
  publicUrl: string
  isDemo: boolean
  clock: Clock
  log: Log
  dice?: Dice
  /** The bundle of the thread that sets papers; without it they are set on the house's own. */
  paperWorker?: string
  /** The bundle of the thread that plans what can be built; without it the planning is done on the house's own. */
  buildWorker?: string
  planWorker?: string
  /** The bundle of the thread that plays the day many times over. */
  simulationWorker?: string
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

/** Opens the house on a data folder: database, keys, photographs, the queue and the hub. Nothing listens and nothing ticks yet. */
export function openHouse(parts: HouseParts): House {
  const { dataDir, log, isRehearsal } = parts
  mkdirSync(dataDir, { recursive: true, mode: 0o700 })
  const hold = enterFolder(dataDir, 'lives', isRehearsal ? 'an open rehearsal' : 'an open house', (words) => log.warn(words))
  try {
    return openHeld(parts, hold)
  } catch (reason) {
    hold.release()
    throw reason
  }
}

function openHeld(parts: HouseParts, hold: Hold): House {
  const {
    dataDir,
    migrationsDir,
    publicUrl,
    isDemo,
    clock,
    log,
    dice = systemDice,
    paperWorker,
    buildWorker,
    planWorker,
    simulationWorker,
    packWorker,
    copyWorker,
    lookWorker,
    reactions = REACTIONS,
    isRehearsal = false,
    machine = openMachine(),
    wall = Date.now,
    isClockRight = false,
    mayLoseLog = false,
    isAlone = false,
    copy = null,
    ended = () => {},
    openPublishing,
  } = parts
  const file = join(dataDir, DATABASE)
  // Before anything reads the database: SQLite would let go of what it cannot read.
  refuseDamagedLog(file, mayLoseLog, (words) => log.error(words))
  refuseLater(standingIn(file, migrationsDir), `The house in ${dataDir}`)
  refuseReadableByOthers(dataDir)
  refuseOtherKey(dataDir)
  const keysDir = join(dataDir, 'keys')
  const keys = openKeys(keysDir)
  const { db, handle } = openDatabase(file, migrationsDir, sealingSteps(keys), (steps) => {
    // A rehearsal is a copy itself.
    if (!isRehearsal) copyBeforeSteps({ dataDir, steps, at: clock.now(), log })
  })
  if (!openPublishing && !isRehearsal) refuseOvertaken(handle, isAlone)
  const publishing = openPublishing?.({ handle, keys, log, said: () => hub.beat() }) ?? null
  noteSealedBy(handle, keys)
  const photographs = openPhotographs(join(dataDir, 'photographs'))
  const press = openPress(paperWorker === undefined ? onThisThread : openWorkshop({ entry: paperWorker, log }))
  const planner = openPlanner(planWorker === undefined ? planOnThisThread : openWorkshop({ entry: planWorker, log }), log)
  const simulator = openSimulator(simulationWorker === undefined ? playOnThisThread : openWorkshop({ entry: simulationWorker, log }), log)
  const builder: Builder = buildWorker === undefined ? buildOnThisThread : openWorkshop({ entry: buildWorker, log })
  const sight = (): Sight => ({ db, now: clock.now(), publicUrl, keys })
  const highest = isRehearsal ? null : startingStamp(sight(), machine, isClockRight, log)
  const insertFact = handle.prepare('INSERT INTO fact (at, kind, subject, body) VALUES (?, ?, ?, ?)')
  const lastSeq = handle.prepare('SELECT coalesce(max(seq), 0) FROM fact').pluck()
  const totalChanges = handle.prepare('SELECT total_changes()').pluck()
  const spare = openSpare(dataDir)
  const elsewhere =
    copy === null || isRehearsal
      ? NOWHERE
      : openElsewhere({ dataDir, copy, handle, isNamed: (sha) => isPhotographNamed(sight(), sha), log })
  let trouble: string | null = null
  let ticker: Ticker | null = null
  let pulse: NodeJS.Timeout | null = null
  let spares: NodeJS.Timeout | null = null
  let writtenAt: number | null = null

  const storingTrouble = (): StoringTrouble | null => {
    if (trouble !== null) return { of: 'disk', words: trouble }
    const words = publishing?.trouble() ?? null
    return words === null ? null : { of: 'machines', words }
  }
  const troubleNow = () => storingTrouble()?.words ?? null
  const react = reactionsOf(reactions)
  const turnAt = (now: Instant, facts: Recorded[]): Turn => {
    const turn: Turn = {
      ...sight(),
      now,
      dice,
      record: (one) => {
        const { lastInsertRowid } = insertFact.run(now, one.kind, one.subject, JSON.stringify(one.body))
        facts.push({ ...one, seq: Number(lastInsertRowid), at: now })
        react(turn, one)
      },
      post: ({ to, subject, body, code, forReader }) => {
        const id = dice.id()
        const sealedCode = code === undefined ? null : sealCode(keys, id, code)
        const sealedWords = forReader === undefined ? null : sealWords(keys, id, forReader)
        db.insert(letter).values({ id, at: now, recipient: to, subject, body, sealedCode, sealedWords, nextTryAt: now }).run()
      },
    }
    return turn
  }

  const hub = openHub({
    topics: LIVE_TOPICS,
    sight,
    seqNow: () => Number(lastSeq.get()),
    settle: () => queue.settle(),
    trouble: () => troubleNow(),
    build: parts.build,
    fault: (reason, topic) => log.error({ err: reason, topic }, 'a frame could not be made'),
  })
  const queue = openQueue({
    handle,
    stamp: stampsFrom(clock, highest ?? undefined),
    turnAt,
    due: closingsFirst,
    passed: machine.passed,
    announce: (facts) => {
      hub.announce(facts)
      ticker?.wake()
    },
    full: (reason) => {
      if (spare.letGo()) {
        log.error({ err: reason }, 'the disk is full: the house goes on with the room that it kept for that; make room now')
        return true
      }
      if (trouble !== null) return false
      log.error({ err: reason }, 'the disk is full: what needs room is refused until there is some')
      trouble = FULL_DISK
      hub.beat()
      return false
    },
    room: () => {
      // The small note of each second may still find room where a bid finds none.
      if (freeOn(dataDir) < ROOM_TO_GO_ON) return false
      trouble = null
      log.info('there is room on the disk again')
      hub.beat()
      return true
    },
    outgoing: publishing ?? undefined,
    broken: (reason) => {
      trouble = BROKEN
      hub.beat()
      log.fatal({ err: reason }, 'the disk failed: no command is taken until the house is opened again')
      ended()
    },
  })
  const packer = openPacker({
    dataDir,
    migrationsDir,
    shop: packWorker === undefined ? packOnThisThread(PACK_MEANS) : openWorkshop({ entry: packWorker, log }),
    log,
    made: (pack) => queue.run((turn) => notePack(turn, pack)),
  })
  const signIn = openSignIn({
    db,
    secret: openSecret(keysDir, SESSION_SECRET),
    publicUrl,
    isRehearsal,
    command: queue.run,
    log,
  })

  const copies = openDayCopies({ dataDir, clock, sight, log, copyWorker })

  const looks = openLooks({ dataDir, clock, sight, log, lookWorker })
  const openFiles = openOpenFiles(log, parts.mostOpenFiles)
  const loop = watchLoop()
  const vitals = openVitals({
    now: clock.now,
    log,
    watched: houseWatched({
      dataDir,
      clock,
      wall: clock.pace ? null : wall,
      ticker: () => ticker,
      writtenAt: () => writtenAt,
      trouble: storingTrouble,
      loop,
      databaseLog: openDatabaseLog(handle, dataDir),
      watching: hub.watching,
      mostOpenFiles: openFiles.limit,
      isStreamDay: copies.isStreamDay,
      isWorthACopy: () => !isDemo && !isRehearsal && findCampaign(sight()) !== null,
    }),
  })
  // A rehearsal is a copy, and seals what was sealed in it anew.
  if (!isRehearsal) vitals.watch(looks.watched)
  if (publishing) vitals.watch(machinesWatched(publishing))
  // In a demo and a rehearsal nobody is real, and nobody is written to.
  const tellMakers = isDemo || isRehearsal ? async () => {} : openVitalLetters({ vitals, sight, queue, log })
  const stopTicking = () => {
    ticker?.stop()
    vitals.stop()
    loop.stop()
    if (pulse) clearInterval(pulse)
    if (spares) clearInterval(spares)
  }

  return {
    db,
    clock,
    log,
    keys,
    queue,
    hub,
    photographs,
    press,
    builder,
    floods: openFloods(),
    unnamedProxy: openUnnamedProxy(log),
    openFiles,
    planner,
    simulator,
    packer,
    dataFolder: openDataFolder({ dataDir, handle, photographs, letGo: elsewhere.letGo }),
    elsewhere,
    looks,
    rehearsal: NO_REHEARSAL,
    vitals,
    signIn,
    isDemo,
    publicUrl,
    sight,
    changes: () => Number(totalChanges.get()),
    trouble: () => troubleNow(),
    publishing,
    seqNow: () => Number(lastSeq.get()),
    startTicking() {
      ticker = openTicker({ sweeps: SWEEPS, sight, queue, clock, log })
      const breathe = () => {
        queue
          .beat((turn) => noteAlive(turn, machine))
          .then(() => {
            writtenAt = performance.now()
          })
          .catch((reason) => {
            // While there is trouble, it has been said once.
            if (troubleNow() === null) log.error({ err: reason }, 'could not note that the house is alive')
          })
      }
      breathe()
      spare.keep()
      spares = setInterval(() => trouble ?? spare.keep(), SPARE_EVERY_MS)
      spares.unref()
      // A house whose clock runs fast is alive for more of its seconds between two notes.
      pulse = setInterval(breathe, Math.max(100, 1000 / (clock.pace?.() ?? 1)))
      pulse.unref()
      vitals.start(tellMakers)
      copies.start()
      if (!isRehearsal) looks.start()
      elsewhere.start()
      if (elsewhere.state().isOn) vitals.watch(copyWatched(elsewhere))
    },
    wake: () => ticker?.wake(),
    stopTicking,
    close() {
      stopTicking()
      copies.close()
      looks.close()
      hub.close()
      press.close()
      builder.close()
      planner.close()
      simulator.close()
      packer.close()
      handle.close()
      hold.release()
    },
  }
}
