import type { Turn } from '#runtime/queue/turn'
import { lastNoted, noteChange } from './changes.service'

const OTHER_MACHINES = { kind: 'campaign', what: 'whether other machines hold what is new' } as const

/** At each start: whether the house goes on alone, which somebody told it to at its machine. */
export function noteOtherMachines(turn: Turn, isAlone: boolean): void {
  const before = lastNoted(turn, OTHER_MACHINES) ?? ''
  const after = isAlone ? 'no: it goes on alone' : 'yes'
  if (before !== after) noteChange(turn, null, { ...OTHER_MACHINES, before, after })
}
