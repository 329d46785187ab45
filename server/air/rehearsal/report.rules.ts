import { type Instant, MINUTE } from '#kernel/instant'
import { AFTER_CLOSING, BEFORE_CLOSING } from '#sale/programme/programme.rules'
import { CUES } from '../screens/cues.rules'
import { type Note, type RehearsalReport, TROUBLES, type Trouble } from './rehearsal.contract'

export interface RehearsedDay {
  from: Instant
  to: Instant
  /** The end of the stream. */
  closesAt: Instant
  ended: { lot: number; endedAt: Instant }[]
  notes: readonly Note[]
}

/** What came of a rehearsal: what ran into what, what ran over, cues that the host's screen never came to, bids that were refused. */
export function reportOf({ from, to, closesAt, ended, notes }: RehearsedDay): RehearsalReport {
  const planned = new Map(notes.flatMap((note) => (note.kind === 'planned' ? [[note.lot, note.at] as const] : [])))
  const shown = new Set(notes.flatMap((note) => (note.kind === 'cue' ? `${note.lot} ${note.cue}` : [])))
  const lots = ended
    .flatMap(({ lot, endedAt }) => {
      const plannedAt = planned.get(lot)
      if (plannedAt === undefined) return []
      // A cue whose time lay before the rehearsal began was not missed by it.
      const missedCues = CUES.filter(({ key, lead }) => plannedAt - lead >= from && !shown.has(`${lot} ${key}`)).map(({ does }) => does)
      return [{ lot, plannedAt, endedAt, lateMs: endedAt - plannedAt, missedCues }]
    })
    .sort((a, b) => a.endedAt - b.endedAt)
  const collisions = lots.slice(1).flatMap((next, index) => {
    const before = lots[index]
    const byMs = before ? before.endedAt + AFTER_CLOSING - (next.endedAt - BEFORE_CLOSING) : 0
    return before && byMs > 0 ? [{ lot: before.lot, into: next.lot, byMs }] : []
  })
  const tried = new Set(notes.flatMap((note) => (note.kind === 'trouble' ? note.trouble : [])))
  const refused = new Map<string, number>()
  for (const note of notes) if (note.kind === 'refused') refused.set(note.words, (refused.get(note.words) ?? 0) + 1)
  return {
    from,
    to,
    lots,
    collisions,
    overMs: Math.max(0, ...lots.map(({ endedAt }) => endedAt + AFTER_CLOSING - closesAt)),
    bids: notes.filter(({ kind }) => kind === 'bid').length,
    refused: [...refused].map(([words, times]) => ({ words, times })).sort((a, b) => b.times - a.times),
    tried: (Object.keys(TROUBLES) as Trouble[]).filter((trouble) => tried.has(trouble)),
    untried: (Object.keys(TROUBLES) as Trouble[]).filter((trouble) => !tried.has(trouble)),
    left: notes.flatMap((note) => (note.kind === 'left' ? note.words : [])),
    news: notes.flatMap((note) => (note.kind === 'news' ? [{ at: note.at, words: note.words }] : [])),
  }
}

/** How late a lot closed, by the minutes of the two times that stand beside it. */
export const minutesLate = (plannedAt: Instant, endedAt: Instant): number => Math.floor(endedAt / MINUTE) - Math.floor(plannedAt / MINUTE)

/** The report in lines, for whoever started it in a terminal. */
export function reportLines(report: RehearsalReport, clock: (at: Instant) => string): string[] {
  const minutes = (milliseconds: number) => `${Math.max(1, Math.round(milliseconds / MINUTE))} min`
  const missed = report.lots.filter(({ missedCues }) => missedCues.length > 0)
  return [
    `Rehearsed from ${clock(report.from)} to ${clock(report.to)}: ${count(report.lots.length, 'lot')} closed, ${count(report.bids, 'bid')} taken.`,
    ...report.lots.map(({ lot, plannedAt, endedAt }) => {
      const late = minutesLate(plannedAt, endedAt)
      return `  lot ${lot}: planned ${clock(plannedAt)}, closed ${clock(endedAt)}${late > 0 ? `, ${late} min late` : ''}`
    }),
    report.collisions.length === 0 ? 'No closing ran into the next.' : 'Ran into the next:',
    ...report.collisions.map(({ lot, into, byMs }) => `  lot ${lot} into the ten minutes of lot ${into}, by ${minutes(byMs)}`),
    report.overMs === 0 ? 'The stream ended in time.' : `The stream ran over by ${minutes(report.overMs)}.`,
    missed.length === 0 ? 'Every cue came up.' : 'Cues that never came up:',
    ...missed.map(({ lot, missedCues }) => `  lot ${lot}: ${missedCues.join(', ')}`),
    report.refused.length === 0 ? 'No bid was refused.' : 'Bids that were refused:',
    ...report.refused.map(({ words, times }) => `  ${times} × ${words}`),
    ...whatWasTried(report),
  ]
}

/** What was rehearsed and what was not, in sentences. */
export function whatWasTried({ tried, untried, left }: Pick<RehearsalReport, 'tried' | 'untried' | 'left'>): string[] {
  const names = (some: readonly Trouble[]) => some.map((trouble) => TROUBLES[trouble].toLowerCase()).join(', ')
  return [
    tried.length === 0 ? 'Nothing went wrong on purpose.' : `Rehearsed: ${names(tried)}.`,
    ...(untried.length === 0 ? [] : [`Not rehearsed: ${names(untried)}.`]),
    ...left,
  ]
}

const count = (number: number, what: string): string => (number === 1 ? `one ${what}` : `${number} ${what}s`)
