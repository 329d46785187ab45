import { appendFileSync, existsSync, readFileSync } from 'node:fs'
import type { Rehearsal } from '#air/rehearsal/rehearsal'
import type { FromHouse, Note, RehearsalReport, Trouble } from '#air/rehearsal/rehearsal.contract'
import { reportOf } from '#air/rehearsal/report.rules'
import { viewAt } from '#air/screens/host.rules'
import { MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { dayOf, presentDay } from '#people/campaign/stream-days.service'
import { listStaff } from '#people/people/people.service'
import { lotsFrame } from '#sale/bidding/frames.service'
import { listLots } from '#sale/lots/lots.service'
import { AFTER_CLOSING } from '#sale/programme/programme.rules'
import { listItems, listItemsOfDay, publicProgramme } from '#sale/programme/programme.service'
import type { House } from '../open/parts'
import { openCrowd } from './crowd'
import type { FastClock } from './fast-clock'
import { holderOf } from './pass'
import { actorOf, findCrowd, prepareCopy } from './prepare'
import { openTroubles } from './troubles'

/** Often enough that the fastest pace is reached, by what of the day may lie between two. */
const STEP_MS = 70
/** When troubles come by themselves: as shares of the way from the start to the last closing. */
const BY_THEMSELVES: readonly (readonly [number, Trouble])[] = [
  [0.15, 'guest-late'],
  [0.35, 'stream-lost'],
  [0.55, 'burst'],
  [0.7, 'killed'],
]

export interface OpenRehearsal extends Rehearsal {
  close(): void
}

/**
 * Plays the day in a house that is a copy. What was seen on the way stands in a file beside the database, so that a
 * process that is killed on purpose goes on where it was.
 */
export async function openRehearsal(parts: {
  house: House
  clock: FastClock
  /** The file of notes. */
  file: string
  /** What seals the passes to it. */
  key: string
  hasTroubles: boolean
  tell(message: FromHouse): void
}): Promise<OpenRehearsal> {
  const { house, clock, file, key, hasTroubles, tell } = parts
  const isFirst = !existsSync(file)
  const notes: Note[] = isFirst
    ? []
    : readFileSync(file, 'utf8')
        .split('\n')
        .filter(Boolean)
        .map((line) => JSON.parse(line) as Note)
  const note = (one: Note) => {
    notes.push(one)
    appendFileSync(file, `${JSON.stringify(one)}\n`)
  }
  const news = (words: string) => note({ kind: 'news', at: clock.now(), words })
  if (isFirst) {
    const left = await prepareCopy(house)
    news('The rehearsal begins.')
    for (const words of left) note({ kind: 'left', words })
    for (const { lot, at } of closingsToCome(house)) note({ kind: 'planned', lot, at })
  } else news('The process is back.')

  const host = actorOf(listStaff(house.sight()).find(({ role }) => role === 'maker'))
  const crowd = openCrowd(house, findCrowd(house), note)
  const troubles = openTroubles({ house, host, crowd, news, note, tell })
  const from = notes.find((one) => one.kind === 'news')?.at ?? clock.now()
  const lastPlanned = Math.max(...notes.flatMap((one) => (one.kind === 'planned' ? one.at : [])))
  const caused = new Set<Trouble>(hasTroubles ? [] : BY_THEMSELVES.map(([, trouble]) => trouble))
  // A process that is back was killed on purpose: what came before that came already.
  if (!isFirst) for (const [share, trouble] of BY_THEMSELVES) if (from + share * (lastPlanned - from) <= clock.now()) caused.add(trouble)
  let before = clock.now()
  let report: RehearsalReport | null = null
  let seenCue = ''

  const watch = (now: number) => {
    const { lot, cue } = viewAt(publicProgramme(house.sight()).items, lotsFrame(house.sight()).lots, now)
    const seen = lot && cue ? `${lot.number} ${cue.key}` : ''
    if (lot && cue && seen !== seenCue) note({ kind: 'cue', lot: lot.number, cue: cue.key })
    seenCue = seen
  }

  const settle = (now: number) => {
    const planned = new Set(notes.flatMap((one) => (one.kind === 'planned' ? one.lot : [])))
    const items = listItems(house.sight()).filter(({ lot }) => lot !== null && planned.has(lot))
    const isDone = items.every(({ isOver, runsTo }) => isOver && runsTo + AFTER_CLOSING <= now)
    if (!isDone) return
    const ended = items.flatMap(({ lot, runsTo }) => (lot === null ? [] : [{ lot, endedAt: runsTo }]))
    news('The last lot has closed.')
    report = reportOf({ from, to: now, closesAt: dayOf(house.sight(), lastPlanned).closesAt, ended, notes })
    tell({ tell: 'over', report })
  }

  const step = () => {
    const now = clock.now()
    // The day waits for the slowest: until every bid of the step before has its answer.
    if (crowd.waiting() === 0) clock.step()
    for (const [share, trouble] of BY_THEMSELVES) {
      if (caused.has(trouble) || now < from + share * (lastPlanned - from)) continue
      caused.add(trouble)
      troubles.cause(trouble, 'itself').catch((reason: unknown) => {
        if (reason instanceof Refusal) news(reason.message)
        else house.log.error({ err: reason }, 'a trouble failed')
      })
    }
    troubles.step(now)
    crowd.bid(before, now)
    before = now
    watch(now)
    if (!report) settle(now)
  }
  const timer = setInterval(step, STEP_MS)

  return {
    view: (sight) => ({
      is: 'rehearsal',
      now: sight.now,
      pace: clock.pace(),
      news: notes.flatMap((one) => (one.kind === 'news' ? [{ at: one.at, words: one.words }] : [])),
      report,
      zone: getCampaign(sight).zone,
    }),
    start: () => {
      throw new Refusal('conflict', 'This is already a rehearsal.')
    },
    stop: () => {
      throw new Refusal('conflict', 'Only the house that started it can stop it.')
    },
    cause: troubles.cause,
    setPace(pace) {
      clock.setPace(pace)
      house.wake()
      tell({ tell: 'pace', pace, at: clock.now() })
    },
    whoHolds: (pass) => holderOf(key, pass),
    close: () => clearInterval(timer),
  }
}

/** What closes by itself on the day at hand: of the lots that are open. The result of one that is sold elsewhere comes by hand. */
function closingsToCome({ sight }: House): { lot: number; at: number }[] {
  const isOpenHere = ({ state, soldWhere }: { state: string; soldWhere: string }) => state === 'open' && soldWhere === 'here'
  const here = new Set(listLots(sight()).flatMap((lot) => (isOpenHere(lot) ? lot.number : [])))
  return listItemsOfDay(sight(), presentDay(sight())).flatMap(({ lot, runsTo }) =>
    lot !== null && here.has(lot) ? [{ lot, at: runsTo }] : [],
  )
}

/** How long, in milliseconds of the day, a process that was killed stays away. */
export const AWAY_MS = 3 * MINUTE
