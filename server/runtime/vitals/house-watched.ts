import { totalmem } from 'node:os'
import { getHeapStatistics } from 'node:v8'
import type { Clock } from '#kernel/clock'
import { type Instant, SECOND } from '#kernel/instant'
import type { DatabaseLog } from '../disk/database-log'
import { newestBackup } from '../disk/manifest'
import { freeOn } from '../disk/spare'
import type { Ticker } from '../queue/ticker'
import { COPY_STEPS, judgeCopy } from './copies.rules'
import { countOpenFiles } from './count-open-files'
import { fillingRate, judgeLog, judgeRoom, LEAST_ROOM, LOG_STEPS, type RoomAt } from './disk.rules'
import { judgeSweeps, judgeTick, judgeWriter, type StoringTrouble, TICK_STEPS, WRITE_STEPS } from './going.rules'
import type { LoopLag } from './loop-lag'
import { CLOCK_LIMIT, judgeClock, judgeFiles, judgeLag, judgeMemory, LAG_STEPS } from './process.rules'
import type { Limits, Watched } from './vital'

const atMost = (upper: number): Limits => ({ lower: null, upper })

const ROOM_IS_NOTED_EVERY = 60
const ROOM_IS_NOTED_FOR = 60

export interface HouseFacts {
  dataDir: string
  clock: Clock
  /** The wall clock of the machine; without it the house’s clock is compared with nothing. */
  wall: (() => Instant) | null
  ticker(): Ticker | null
  /** When anything was stored last, by the monotonic clock. */
  writtenAt(): number | null
  trouble(): StoringTrouble | null
  loop: LoopLag
  databaseLog: DatabaseLog
  watching(): number
  /** How many files the system lets the house have open; null where it does not say. */
  mostOpenFiles: number | null
  isStreamDay(): boolean
  isWorthACopy(): boolean
}

/** What is watched of the process, its disk and its clock. */
export function houseWatched(house: HouseFacts): Watched[] {
  const { dataDir, clock, wall, mostOpenFiles: limit } = house
  const openedAt = performance.now()
  const ageOf = (at: number | null | undefined) => (at == null ? null : (performance.now() - at) / SECOND)
  const room: RoomAt[] = []

  const all: Watched[] = [
    {
      key: 'write-age',
      name: 'Storing',
      unit: 'seconds',
      help: 'Age of the last write to the database.',
      limits: atMost(WRITE_STEPS.bad),
      whenNotReady: 'Nothing can be stored at present.',
      look: () => judgeWriter(ageOf(house.writtenAt()), house.trouble()),
    },
    {
      key: 'tick-age',
      name: 'What falls due',
      unit: 'seconds',
      help: 'Age of the last look at what falls due by itself.',
      limits: atMost(TICK_STEPS.bad),
      whenNotReady: 'What falls due by itself is late.',
      look: () => judgeTick(ageOf(house.ticker()?.state().lookedAt)),
    },
    {
      key: 'sweeps-failing',
      name: 'Work that fails',
      unit: 'count',
      help: 'Kinds of work falling due by itself that failed when last tried.',
      look: () => judgeSweeps([...(house.ticker()?.state().failedSince ?? [])].map(([name, since]) => ({ name, for: ageOf(since) ?? 0 }))),
    },
    {
      key: 'disk-free',
      name: 'Room on the disk',
      unit: 'bytes',
      help: 'Bytes that are free on the disk of the data folder.',
      limits: { lower: LEAST_ROOM, upper: null },
      whenNotReady: 'There is too little room on the disk.',
      look() {
        const free = freeOn(dataDir)
        const at = performance.now() / SECOND
        if (at - (room.at(-1)?.at ?? Number.NEGATIVE_INFINITY) >= ROOM_IS_NOTED_EVERY) room.push({ at, free })
        if (room.length > ROOM_IS_NOTED_FOR) room.shift()
        return judgeRoom(free, fillingRate(room))
      },
    },
    {
      key: 'database-log',
      name: 'Log of the database',
      unit: 'bytes',
      help: 'Size of the log in front of the database (WAL).',
      limits: atMost(LOG_STEPS.bad),
      look() {
        const { bytes, heldBy } = house.databaseLog.keepShort()
        return judgeLog(bytes, heldBy)
      },
    },
    {
      key: 'copy-age',
      name: 'Newest copy',
      unit: 'seconds',
      help: 'Age of the newest copy in the data folder.',
      limits: atMost(COPY_STEPS.onTheDay.bad),
      whenNotReady: 'The newest copy is too old.',
      look(now) {
        const madeAt = newestBackup(dataDir)
        return judgeCopy({
          age: madeAt === null ? null : Math.max(0, (now - madeAt) / SECOND),
          isStreamDay: house.isStreamDay(),
          openFor: ageOf(openedAt) ?? 0,
          isWorthACopy: house.isWorthACopy(),
        })
      },
    },
    {
      key: 'loop-lag',
      name: 'How fast it answers',
      unit: 'seconds',
      help: 'By how much 99 of 100 turns of the event loop are late, at most.',
      limits: atMost(LAG_STEPS.bad),
      whenNotReady: 'It answers slowly at present.',
      look: () => judgeLag(house.loop.read()),
    },
    {
      key: 'open-files',
      name: 'Screens and open files',
      unit: 'count',
      help: 'Files and lines that are open.',
      limits: limit === null ? undefined : atMost(Math.floor(0.9 * limit)),
      look: () => judgeFiles(countOpenFiles(), limit, house.watching()),
    },
    {
      key: 'memory',
      name: 'Memory',
      unit: 'bytes',
      help: 'Memory that the process uses.',
      look() {
        const { rss, heapUsed } = process.memoryUsage()
        return judgeMemory({ used: rss, given: memoryGiven(), heap: heapUsed, heapLimit: getHeapStatistics().heap_size_limit })
      },
    },
  ]
  if (wall)
    all.push({
      key: 'clock-ahead',
      name: 'Clock',
      unit: 'seconds',
      help: 'By how much the house’s clock is ahead of the machine’s wall clock.',
      limits: { lower: -CLOCK_LIMIT, upper: CLOCK_LIMIT },
      look: () => judgeClock((clock.now() - wall()) / SECOND),
    })
  return all
}

/** What a container or unit is given, or else all that the machine has. */
function memoryGiven(): number {
  const all = totalmem()
  const constrained = process.constrainedMemory?.() ?? 0
  return constrained > 0 && constrained < all ? constrained : all
}
