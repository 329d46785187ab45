import type { Sight } from '#runtime/queue/turn'
import { listContracts } from '../journal/contracts.service'
import type { LotKnown } from './references.rules'

/** Every reference that is out, of each contract that there was, and whose it is where the contract is over. */
export const referencesKnown = (sight: Sight): LotKnown[] =>
  listContracts(sight).flatMap(({ lot, references, isLast, priceMinor, personId, buyer }) => {
    const isOver = !isLast || priceMinor === 0
    return references.map((reference) => ({ lot, reference, ...(isOver && personId !== null && { former: { personId, buyer } }) }))
  })
