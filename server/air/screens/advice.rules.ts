import { type Instant, MINUTE } from '#kernel/instant'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import { AFTER_CLOSING, BEFORE_CLOSING, findClash, isElsewhere, SHORTEST, slotOf } from '#sale/programme/programme.rules'
import { CUES } from './cues.rules'

/** What the host does with the time there is: fill it, or catch up. */
export interface Advice {
  kind: 'stretch' | 'cut' | 'even'
  /** By how many minutes; 0 when all is even. */
  minutes: number
  words: string
  /** What to add or to leave out, each with its minutes. */
  parts: AdvicePart[]
}

/** What the host can do to the day, at a press. */
export type AdviceAct =
  | { kind: 'drop'; itemId: string }
  | { kind: 'shorten' | 'lengthen'; itemId: string; minutes: number }
  | { kind: 'end-later'; minutes: number }

export interface AdvicePart {
  words: string
  minutes: number
  /** Left out where it is something to say or to leave unsaid. */
  act?: AdviceAct
}

export interface AdviceQuestion {
  items: readonly ProgrammeItem[]
  now: Instant
  /** The end of the stream. */
  endsAt: Instant
}

/** What can be added at any time, in this order; minutes by common practice. */
const FILLERS = [
  { words: 'who there is to thank for the last lot', minutes: 2 },
  { words: 'the cause, and how far it is to the target', minutes: 3 },
  { words: 'questions from viewers', minutes: 5 },
  { words: 'a machine from the bench, opened', minutes: 10 },
] as const

/** Less than this is not worth a word. */
const WORTH = 2 * MINUTE

/**
 * Stretch or cut, from where the day stands. Clocks do not wait for the host, so what was lost comes out of the next lot's ten
 * minutes, and what is left over lies before them.
 */
export function adviceAt({ items, now, endsAt }: AdviceQuestion): Advice {
  const coming = items.filter(({ isOver, isHeld }) => !isOver && !isHeld).map(asItRuns)
  const next = coming.filter(({ kind, endsAt: at }) => kind === 'closing' && at > now).sort((a, b) => a.endsAt - b.endsAt)[0]
  const begins = next ? next.endsAt - BEFORE_CLOSING : null
  const lost = next && begins !== null ? Math.max(0, lastClear(items, now) - begins) : 0
  if (next && lost >= MINUTE && lastClear(items, now) <= next.endsAt && now < next.endsAt) return cutCues(next, lost)
  const due = coming.find((item) => item.kind === 'closing' && item.endsAt <= now && !isElsewhere(item, now))
  if (due) return even(`Wait for the close of ${nameOf(due)}.`)
  const stuck = inTheWay(coming, now)
  if (stuck) return stuck
  const late = Math.max(0, ...coming.map((item) => slotOf(item).to - endsAt))
  if (late >= MINUTE) return cutDay(coming, now, late)
  if (begins !== null && now >= begins) return even(sentence(`${nameOf(next)} has its ten minutes.`))
  return room(coming, now, begins, next)
}

/** When the host is free of the closing before: five minutes after it closed, or now while it still runs. */
function lastClear(items: readonly ProgrammeItem[], now: Instant): Instant {
  const begun = items.filter(({ kind, runsTo }) => kind === 'closing' && runsTo <= now)
  return begun.length === 0 ? 0 : Math.max(...begun.map(({ runsTo }) => runsTo)) + AFTER_CLOSING
}

/** The next lot's cues in fewer minutes: the record goes first, then the showing, and the story is told short. */
function cutCues(next: ProgrammeItem, lost: number): Advice {
  const spans = CUES.map(({ does, lead }, index) => ({ words: does, minutes: (lead - (CUES[index + 1]?.lead ?? 0)) / MINUTE }))
  const [story, working, record] = spans
  let left = Math.ceil(lost / MINUTE)
  const parts: Advice['parts'] = []
  for (const part of [record, working, story]) {
    if (!part || left <= 0) continue
    const off = Math.min(part.minutes, left)
    parts.push({ words: off === part.minutes ? `leave out: ${part.words}` : `shorten: ${part.words}`, minutes: off })
    left -= off
  }
  const minutes = Math.ceil(lost / MINUTE)
  return { kind: 'cut', minutes, words: `Cut ${sayMinutes(minutes)} before ${nameOf(next)}.`, parts }
}

/** The day would end late: what stands after now and could be left out. */
function cutDay(coming: readonly ProgrammeItem[], now: Instant, late: number): Advice {
  const minutes = Math.ceil(late / MINUTE)
  const parts = coming.flatMap((item) => waysToCut(item, now, minutes)).slice(0, 2)
  const endLater: AdvicePart = { words: 'let the stream end later', minutes, act: { kind: 'end-later', minutes } }
  return { kind: 'cut', minutes, words: `The day would end ${sayMinutes(minutes)} late.`, parts: [...parts, endLater] }
}

/** What can be done with a guest or a break that is on or comes: a break is dropped, a guest shortened as far as may be. */
function waysToCut({ id, kind, title, startsAt, endsAt }: ProgrammeItem, now: Instant, late: number): AdvicePart[] {
  if (kind === 'closing' || endsAt <= now) return []
  if (kind === 'break' && startsAt > now)
    return [{ words: `drop ${title}`, minutes: Math.round((endsAt - startsAt) / MINUTE), act: { kind: 'drop', itemId: id } }]
  const most = Math.floor((endsAt - Math.max(now, startsAt + SHORTEST)) / MINUTE)
  const minutes = Math.min(late, most)
  return minutes < 1 ? [] : [{ words: `shorten ${title}`, minutes, act: { kind: 'shorten', itemId: id, minutes } }]
}

/** A break that stands in the way of a closing, since nobody could be asked when the closing moved. */
function inTheWay(coming: readonly ProgrammeItem[], now: Instant): Advice | null {
  for (const item of coming.filter(({ kind, startsAt }) => kind === 'break' && startsAt > now)) {
    const closing = coming.find((one) => one.kind === 'closing' && findClash(one, [item]) !== null)
    if (!closing) continue
    const minutes = Math.round((item.endsAt - item.startsAt) / MINUTE)
    return {
      kind: 'cut',
      minutes,
      words: `${item.title} stands in the way of ${nameOf(closing)}.`,
      parts: [{ words: `drop ${item.title}`, minutes, act: { kind: 'drop', itemId: item.id } }],
    }
  }
  return null
}

/** What lies free before the next thing that has its time. */
function room(coming: readonly ProgrammeItem[], now: Instant, begins: Instant | null, next: ProgrammeItem | undefined): Advice {
  const on = coming.filter(({ kind, startsAt, endsAt }) => kind !== 'closing' && startsAt <= now && endsAt > now)
  const busyTo = Math.max(now, ...on.map(({ endsAt }) => endsAt))
  const starts = coming.filter(({ kind, startsAt }) => kind !== 'closing' && startsAt > now).map(({ startsAt }) => startsAt)
  const until = Math.min(...starts, begins ?? Number.POSITIVE_INFINITY)
  if (!Number.isFinite(until)) return even('Nothing more is scheduled. Close the day when you like.')
  if (until - busyTo < WORTH) return even(on[0] ? `${on[0].title} has the time that was planned.` : 'Nothing to fill or to leave out.')
  const minutes = Math.floor((until - busyTo) / MINUTE)
  const what = until === begins ? `the ten minutes of ${nameOf(next)}` : (coming.find(({ startsAt }) => startsAt === until)?.title ?? '')
  const guest = on.find(({ kind }) => kind === 'guest')
  const words = `${sayMinutes(minutes)} to fill ${guest ? `after ${guest.title}` : 'now'}, before ${what}.`
  return { kind: 'stretch', minutes, words: sentence(words), parts: fill(minutes, guest) }
}

function fill(minutes: number, guest: ProgrammeItem | undefined): Advice['parts'] {
  const longer = Math.min(minutes, 10)
  const parts: Advice['parts'] =
    guest && !guest.keepsTime
      ? [{ words: `keep ${guest.title} longer`, minutes: longer, act: { kind: 'lengthen', itemId: guest.id, minutes: longer } }]
      : []
  let left = minutes - (parts[0]?.minutes ?? 0)
  for (const filler of FILLERS) {
    if (filler.minutes > left) continue
    parts.push({ ...filler })
    left -= filler.minutes
  }
  return parts
}

const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

const even = (words: string): Advice => ({ kind: 'even', minutes: 0, words, parts: [] })

const nameOf = (item: ProgrammeItem | undefined): string => (item?.lot ? `lot ${item.lot}` : 'the next lot')

const sayMinutes = (minutes: number): string => (minutes === 1 ? 'one minute' : `${minutes} minutes`)

const asItRuns = (item: ProgrammeItem): ProgrammeItem =>
  item.kind === 'closing' ? { ...item, startsAt: item.runsTo, endsAt: item.runsTo } : item
