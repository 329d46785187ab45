import { DateTime } from 'luxon'
import { HOUR, type Instant, MINUTE, SECOND } from '#kernel/instant'
import { showClock, showDay, zonePlace } from '#kernel/wall-clock'
import type { Programme, ProgrammeItem } from '#sale/programme/programme.contract'
import type { ProgrammePictureOrder } from './programme-picture'

const ROWS = 4

/** When an item begins to matter: a closing when it closes now, the others when they begin. */
export const timeOf = ({ kind, runsTo, startsAt }: ProgrammeItem): Instant => (kind === 'closing' ? runsTo : startsAt)

const inOrder = (items: readonly ProgrammeItem[]) => [...items].sort((a, b) => timeOf(a) - timeOf(b))

/** The next closings on a picture for links; the last ones once all are over. */
export function programmePictureOf(programme: Programme, causeName: string): ProgrammePictureOrder {
  const { zone, opensAt, closesAt } = programme
  const closings = inOrder(programme.items).filter(({ kind, isWithdrawn }) => kind === 'closing' && !isWithdrawn)
  const coming = closings.filter(({ isOver }) => !isOver)
  const rows = coming.length > 0 ? coming.slice(0, ROWS) : closings.slice(-ROWS)
  const year = DateTime.fromMillis(opensAt, { zone }).year
  return {
    of: 'programme-picture',
    name: programme.name,
    when: `${showDay(opensAt, zone)} ${year}, ${showClock(opensAt, zone)} to ${showClock(closesAt, zone)} in ${zonePlace(zone)}`,
    rows: rows.map((item) => ({ clock: showClock(item.runsTo, zone), words: item.title, isOver: item.isOver })),
    foot: causeName === '' ? '' : `In aid of ${causeName}`,
  }
}

/** "Closes Sat 13 March, 20:40 in London", short enough for a picture; how it ended once it has. */
export function closingLine(lot: { state: string; closesAt: Instant | null; endedAt: Instant | null }, zone: string): string {
  const at = lot.endedAt ?? lot.closesAt
  if (lot.state === 'withdrawn') return 'Withdrawn'
  if (at === null) return 'Not yet in the programme'
  const day = DateTime.fromMillis(at, { zone, locale: 'en-GB' }).toFormat('ccc d LLLL')
  const when = `${day}, ${showClock(at, zone)} in ${zonePlace(zone)}`
  return lot.endedAt === null ? `Closes ${when}` : `${lot.state === 'sold' ? 'Sold' : 'Closed'} ${when}`
}

export interface DescribedLot {
  number: number
  title: string
  unit: string
  /** The head of its history as it is read aloud; null before there is one. */
  head: string | null
  /** "Sold for £165.00."; empty while it runs. */
  result: string
}

export interface Description {
  programme: Programme
  cause: { name: string; shareBp: number }
  lots: readonly DescribedLot[]
  /** A paragraph that names everyone who agreed to be named. */
  credits: string
  publicUrl: string
  /** When the recording begins; chapters are counted from there. */
  recordedFrom: Instant
}

/** A chapter shorter than this is not taken by players. Common practice, no source. */
const SHORTEST_CHAPTER = 10 * SECOND

/** The text under a video: what it is, times, chapters, links, cause and credits; plain lines, no markup. */
export function describeVideo({ programme, cause, lots, credits, publicUrl, recordedFrom }: Description): string {
  const { zone, opensAt, closesAt } = programme
  const share = cause.shareBp === 10_000 ? 'All of every price' : `${cause.shareBp / 100} % of every price`
  const when = `${showDay(opensAt, zone)}, ${showClock(opensAt, zone)} to ${showClock(closesAt, zone)} (${zonePlace(zone)})`
  return [
    `${programme.name}: ${when}. Each machine was made by hand from gifts, and comes with the record of its tests.`,
    cause.name === '' ? '' : `${share} goes to ${cause.name}.`,
    `Bid, and see the programme in your own time: ${publicUrl}/programme\nResults and changes as a feed: ${publicUrl}/programme.atom\nIn your calendar: ${publicUrl}/programme.ics`,
    chaptersOf(programme, recordedFrom)
      .map(({ offset, words }) => `${showOffset(offset)} ${words}`)
      .join('\n'),
    lots
      .map(({ number, title, unit, head, result }) =>
        [
          `Lot ${number}, ${title} (${unit}).${result === '' ? '' : ` ${result}`}`,
          `${publicUrl}/lots/${number}`,
          head === null ? '' : `Head of its history: ${head} (${publicUrl}/lots/${number}/history)`,
        ]
          .filter(Boolean)
          .join('\n'),
      )
      .join('\n\n'),
    credits,
    `Everyone who gave: ${publicUrl}/credits`,
  ]
    .filter(Boolean)
    .join('\n\n')
    .concat('\n')
}

/** Chapters as players read them: the first at nought, each later than the one before by ten seconds at least. */
export function chaptersOf(programme: Programme, from: Instant): { offset: number; words: string }[] {
  const chapters = [{ offset: 0, words: 'Welcome' }]
  for (const item of inOrder(programme.items).filter(({ isWithdrawn }) => !isWithdrawn)) {
    const offset = Math.floor((timeOf(item) - LEAD[item.kind] - from) / SECOND) * SECOND
    const words = item.kind === 'closing' ? `${item.title} closes` : item.title
    if (offset - (chapters.at(-1)?.offset ?? 0) >= SHORTEST_CHAPTER) chapters.push({ offset, words })
  }
  return chapters
}

/** A chapter of a closing begins with its story, ten minutes before. */
const LEAD = { closing: 10 * MINUTE, guest: 0, break: 0 } as const

/** "0:00:00", "13:05:07": hours always, since a day is longer than one. */
export function showOffset(offset: number): string {
  const two = (n: number) => String(n).padStart(2, '0')
  return `${Math.floor(offset / HOUR)}:${two(Math.floor((offset % HOUR) / MINUTE))}:${two(Math.floor((offset % MINUTE) / SECOND))}`
}
