import type { Reaction } from '#runtime/queue/reactions'
import { HAMMER_FELL, hammer } from '#sale/lots/hammer.contract'
import { recordHammer } from './journal.service'

/** What the winner owes stands in the journal in the commit in which the lot ends. */
export const hammerInJournal: Reaction = {
  to: [HAMMER_FELL],
  act(turn, { body }) {
    const { number: lotNumber, ...sale } = hammer.parse(body)
    recordHammer(turn, { ...sale, lotNumber })
  },
}
