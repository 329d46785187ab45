import type { Turn } from '#runtime/queue/turn'
import { lastNoted, noteChange } from './changes.service'

const SIGNING_KEY = { kind: 'key', what: 'the signing key of the house' } as const

/** At each start: a key that was replaced while the house was closed is written down with the first turn of the next. */
export function noteSigningKey(turn: Turn): void {
  const before = lastNoted(turn, SIGNING_KEY) ?? ''
  noteChange(turn, null, { ...SIGNING_KEY, before, after: turn.keys.kid })
}
