import type { Sweep } from '#runtime/queue/ticker'
import { findNextToClose } from '../lots/lots.service'
import { closeDueLots } from './close-due.service'

/** Makes official what the clock has decided already: a bid is refused at the closing however late this runs. */
export const closingSweep: Sweep = {
  name: 'closings',
  nextAt: (sight) => findNextToClose(sight)?.closesAt ?? null,
  run: (turn) => closeDueLots(turn),
}
