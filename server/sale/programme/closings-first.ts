import type { DueWork } from '#runtime/queue/due'
import { closeDueLots } from '../closings/close-due.service'
import { findNextToClose } from '../lots/lots.service'
import { settleOutageOfDay } from './after-hold.service'

/** Facts by which a lot can come to close sooner than every other: it opened, or its clock goes on. All others only put a closing off. */
const BRINGS_FORWARD: ReadonlySet<string> = new Set(['lot.opened', 'lot.resumed'])

/** Before any command every lot that is due closes; and before the first, what the silence before this start means is settled. */
export const closingsFirst: DueWork = {
  start: settleOutageOfDay,
  nextAt: (sight) => findNextToClose(sight)?.closesAt ?? null,
  run: (turn) => closeDueLots(turn),
  bringsForward: ({ kind }) => BRINGS_FORWARD.has(kind),
}
