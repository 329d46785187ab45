import type { Instant } from '#kernel/instant'

/** What is known about the copy elsewhere. */
export interface CopyState {
  /** Whether one is to be kept at all. */
  isOn: boolean
  /** How many seconds old what lies there is; null while nothing whole is there. */
  ageSeconds: number | null
  /** For how many seconds nothing has been proven to lie there, counted from the beginning where nothing ever was. */
  lateSeconds: number
  /** What keeps it from being seconds old, in words; null on a good day. */
  trouble: string | null
  /** What is worth knowing about it though nothing fails. */
  note: string | null
}

export const NO_COPY: CopyState = { isOn: false, ageSeconds: null, lateSeconds: 0, trouble: null, note: null }

/** A copy is behind by the second in which something is copied; by more than this, something is wrong. */
const OLD_SECONDS = 15

/** As fast as a slow disk or line writes a first copy. Common practice, no source. */
const SLOW_BYTES_A_SECOND = 5_000_000

export interface CopyFacts {
  now: Instant
  /** When the copying began. */
  since: Instant
  /** How large the database is: a first copy of it is written whole before anything of it counts. */
  bytes: number
  /** Until when everything is proven to lie there. */
  provenAt: Instant | null
  /** What was said last by whatever failed and has not succeeded since. */
  fault: string | null
  /** What else is to be there, and fails though the database arrives. */
  lack: string | null
  note: string | null
}

/** What failed a moment ago and has been made up for is no trouble; what is old is, whatever anybody says. */
export function copyStateOf({ now, since, bytes, provenAt, fault, lack, note }: CopyFacts): CopyState {
  const ageSeconds = provenAt === null ? null : Math.max(0, Math.floor((now - provenAt) / 1000))
  const lateSeconds = Math.max(0, (now - (provenAt ?? since)) / 1000)
  const isBeingMade = provenAt === null && fault === null && lateSeconds <= OLD_SECONDS + bytes / SLOW_BYTES_A_SECOND
  const isLate = lateSeconds > OLD_SECONDS && !isBeingMade
  const late = isLate ? (fault ?? 'nothing new has arrived there since, and nothing says why') : null
  return { isOn: true, ageSeconds, lateSeconds, trouble: late ?? lack, note }
}

/** The state in a sentence for the staff. */
export function copyWords(state: CopyState): string {
  if (!state.isOn) return 'No copy of this house is kept elsewhere. Whoever runs it can set COPY_TO.'
  return [ageWords(state), state.note].filter((words) => words !== null).join(' ')
}

function ageWords({ ageSeconds, trouble }: CopyState): string {
  const why = trouble === null ? '' : `: ${trouble}`
  if (ageSeconds === null) return trouble === null ? 'A first copy elsewhere is being made.' : `There is no copy elsewhere${why}.`
  if (ageSeconds <= OLD_SECONDS)
    return `Copied elsewhere ${counted(ageSeconds, 'second')} ago${why === '' ? '' : `, but not everything${why}`}.`
  return `The copy elsewhere is ${roughly(ageSeconds)} old${why}.`
}

const counted = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`

function roughly(seconds: number): string {
  if (seconds < 120) return counted(seconds, 'second')
  if (seconds < 7200) return counted(Math.floor(seconds / 60), 'minute')
  return counted(Math.floor(seconds / 3600), 'hour')
}
