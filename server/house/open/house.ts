import { randomUUID } from 'node:crypto'
import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { NO_REHEARSAL } from '#air/rehearsal/rehearsal'
import { openDatabase } from '#db/open'
import { refuseLater, standingIn } from '#db/steps'
import { REACTIONS } from '#doors/web/reactions'
import { SWEEPS } from '#doors/web/sweeps'
import { LIVE_TOPICS } from '#doors/web/topics'
import { openDataFolder } from '#end/deletion/data-folder'
import { openPacker, packOnThisThread } from '#end/packs/packer'
import { notePack } from '#end/packs/packs.service'
import type { Dice } from '#kernel/dice'
import { findCampaign } from '#people/campaign/campaign.service'
import { isPhotographNamed, isRecordingNamed } from '#people/photographs/photograph.service'
import { openSignIn } from '#people/sign-in/sign-in'
import { openVitalLetters } from '#people/vitals/vital-letters.service'
import { openFloods } from '#runtime/call/flood'
import { openUnnamedProxy } from '#runtime/call/unnamed-proxy'
import { refuseCutDatabase } from '#runtime/disk/cut-database'
import { refuseDamagedLog } from '#runtime/disk/damaged-log'
import { openDatabaseLog } from '#runtime/disk/database-log'
import { openPhotographs } from '#runtime/disk/files'
import type { Hold } from '#runtime/disk/hold'
import { DATABASE } from '#runtime/disk/house-files'
import { openKeptFiles } from '#runtime/disk/kept-files'
import { openKeys, openSecret, SESSION_SECRET } from '#runtime/disk/keys'
import { refuseReadableByOthers } from '#runtime/disk/owner-alone'
import { openRecordings } from '#runtime/disk/recordings'
import { noteSealedBy, refuseLostDatabase, refuseOtherKey } from '#runtime/disk/sealed-by'
import { enterFolder } from '#runtime/disk/swap'
import { NOWHERE, openElsewhere } from '#runtime/elsewhere/elsewhere'
import { openHub } from '#runtime/live/hub'
import { openOpenFiles } from '#runtime/live/open-files'
import { noteAlive } from '#runtime/queue/alive'
import { openMachine } from '#runtime/queue/machine'
import { pooledBytes } from '#runtime/queue/pooled-bytes'
import { openQueue, type Recorded } from '#runtime/queue/queue'
import { reactionsOf } from '#runtime/queue/reactions'
import { stampsFrom } from '#runtime/queue/stamp'
import { openTicker, type Ticker } from '#runtime/queue/ticker'
import type { Sight } from '#runtime/queue/turn'
import { refuseWithoutNats } from '#runtime/standby/without-nats'
import type { StoringTrouble } from '#runtime/vitals/going.rules'
import { houseWatched } from '#runtime/vitals/house-watched'
import { watchLoop } from '#runtime/vitals/loop-lag'
import { machinesWatched } from '#runtime/vitals/machines-watched'
import { openVitals } from '#runtime/vitals/vitals'
import { openWorkshop } from '#runtime/workers/workers'
import { sealingSteps } from '#sale/lots/sealing-steps'
import { closingsFirst } from '#sale/programme/closings-first'
import { copyBeforeSteps } from './copy-before-steps'
import { copyWatched } from './copy-watched'
import { openDayCopies } from './day-copies'
import { openDiskTrouble } from './disk-trouble'
import { openLooks } from './looks'
import { openNotedHeads, refuseFewerHeads } from './noted-heads'
import { PACK_MEANS } from './pack-means'
import type { House, HouseParts } from './parts'
import { startingStamp } from './starting-stamp'
import { openTurns } from './turns'
import { openWorkshops } from './workshops'

const systemDice: Dice = { bytes: pooledBytes(4096), id: () => randomUUID() }

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
  refuseCutDatabase(file)
  refuseLater(standingIn(file, migrationsDir), `The house in ${dataDir}`)
  refuseReadableByOthers(dataDir)
  refuseOtherKey(dataDir)
  if (!isRehearsal) refuseFewerHeads(dataDir, mayLoseLog, (words) => log.error(words))
  if (!mayLoseLog) refuseLostDatabase(dataDir)
  const keysDir = join(dataDir, 'keys')
  const keys = openKeys(keysDir)
  const { db, handle } = openDatabase(file, migrationsDir, sealingSteps(keys), (steps) => {
    // A rehearsal is a copy itself.
    if (!isRehearsal) copyBeforeSteps({ dataDir, steps, at: clock.now(), log })
  })
  if (!openPublishing && !isRehearsal) refuseWithoutNats(handle, isAlone)
  const publishing = openPublishing?.({ handle, keys, log, said: () => hub.beat() }) ?? null
  noteSealedBy(handle, keys)
  const photographs = openPhotographs(join(dataDir, 'photographs'))
  const recordings = openRecordings(join(dataDir, 'photographs'))
  const keptFiles = openKeptFiles(join(dataDir, 'photographs'))
  const workshops = openWorkshops(parts, log)
  const sight = (): Sight => ({ db, now: clock.now(), publicUrl, keys })
  const highest = isRehearsal ? null : startingStamp(sight(), machine, isClockRight, log)
  const lastSeq = handle.prepare('SELECT coalesce(max(seq), 0) FROM fact').pluck()
  const totalChanges = handle.prepare('SELECT total_changes()').pluck()
  const disk = openDiskTrouble({ dataDir, file, log, said: () => hub.beat(), ended })
  const elsewhere =
    copy === null || isRehearsal
      ? NOWHERE
      : openElsewhere({ dataDir, copy, handle, isNamed: (sha) => isPhotographNamed(sight(), sha) || isRecordingNamed(sight(), sha), log })
  const listeners: ((facts: readonly Recorded[]) => void)[] = []
  const notedHeads = openNotedHeads({ dataDir, handle, now: clock.now, log })
  let ticker: Ticker | null = null
  let pulse: NodeJS.Timeout | null = null
  let writtenAt: number | null = null

  const storingTrouble = (): StoringTrouble | null => {
    const onDisk = disk.words()
    if (onDisk !== null) return { of: 'disk', words: onDisk }
    const words = publishing?.trouble() ?? null
    return words === null ? null : { of: 'machines', words }
  }
  const troubleNow = () => storingTrouble()?.words ?? null
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
    turnAt: openTurns({ handle, dice, sight, react: reactionsOf(reactions) }),
    due: closingsFirst,
    passed: machine.passed,
    announce: (facts) => {
      for (const hear of listeners) hear(facts)
      hub.announce(facts)
      ticker?.wake()
    },
    full: disk.full,
    room: disk.room,
    misplaced: disk.misplaced,
    outgoing: publishing ?? undefined,
    broken: disk.broken,
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

  const looks = openLooks({ dataDir, clock, sight, queue, log, lookWorker })
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
    disk.stop()
  }

  return {
    db,
    clock,
    log,
    keys,
    queue,
    hub,
    photographs,
    recordings,
    keptFiles,
    press: workshops.press,
    builder: workshops.builder,
    listReader: workshops.listReader,
    sheetReader: workshops.sheetReader,
    floods: openFloods(),
    unnamedProxy: openUnnamedProxy(log),
    openFiles,
    planner: workshops.planner,
    simulator: workshops.simulator,
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
    hearFirst: (listener) => void listeners.push(listener),
    startTicking() {
      ticker = openTicker({ sweeps: SWEEPS, sight, queue, clock, log })
      const breathe = () => {
        queue
          .beat((turn) => noteAlive(turn, machine))
          .then(() => {
            writtenAt = performance.now()
            if (!isRehearsal) notedHeads.note()
          })
          .catch((reason) => {
            // While there is trouble, it has been said once.
            if (troubleNow() === null) log.error({ err: reason }, 'could not note that the house is alive')
          })
      }
      breathe()
      disk.start()
      // A house whose clock may run fast is alive for more of its seconds between two notes.
      pulse = setInterval(breathe, clock.pace ? 100 : 1000)
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
      workshops.close()
      packer.close()
      notedHeads.close()
      handle.close()
      hold.release()
    },
  }
}
