import { type Instant, MINUTE } from '#kernel/instant'

/** What the host does before a closing, and how long before it. Common practice, as a stream is run. */
export const CUES = [
  { lead: 10 * MINUTE, does: 'tell the story', key: 'story' },
  { lead: 6 * MINUTE, does: 'show it working', key: 'working' },
  { lead: 3 * MINUTE, does: 'three lines from its record', key: 'record' },
  { lead: 1 * MINUTE, does: 'last call', key: 'last-call' },
] as const

export type CueKey = (typeof CUES)[number]['key'] | 'wait' | 'confirming' | 'result' | 'held'

export interface Cue {
  key: CueKey
  /** What to do now, in words for across the room. */
  words: string
  /** What comes after it and when, or null. */
  next: { words: string; at: Instant } | null
}

export interface CueQuestion {
  now: Instant
  closesAt: Instant
  /** True once the server has made the close official; nobody else may say that a lot is sold. */
  isClosed: boolean
  isHeld: boolean
}

/** The cue for a lot at an instant: it waits for the server at the close and never calls it itself. */
export function cueFor({ now, closesAt, isClosed, isHeld }: CueQuestion): Cue {
  if (isClosed) return { key: 'result', words: 'Now: the result, and thank everyone in it.', next: null }
  if (isHeld) return { key: 'held', words: 'On hold: say why, no bid is lost.', next: null }
  const left = closesAt - now
  if (left <= 0) return { key: 'confirming', words: 'Wait: the close is being confirmed.', next: null }
  const begun = CUES.filter(({ lead }) => left <= lead)
  const coming = CUES.find(({ lead }) => left > lead)
  const current = begun.at(-1)
  const next = coming ? { words: coming.does, at: closesAt - coming.lead } : { words: 'the close, confirmed by the server', at: closesAt }
  if (!current) return { key: 'wait', words: 'Not yet: there is still time.', next }
  return { key: current.key, words: `Now: ${current.does}.`, next }
}

/** The cue for across a hall, where a line holds three words: "Tell the story." */
export function cueFromAfar({ words }: Cue): string {
  const said = words.replace(/^(Now|Not yet|Wait): /, '')
  return said.charAt(0).toUpperCase() + said.slice(1)
}
