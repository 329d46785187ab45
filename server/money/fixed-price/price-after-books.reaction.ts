import type { Reaction } from '#runtime/queue/reactions'
import type { Turn } from '#runtime/queue/turn'
import { endPrice, findStandingPrice, listFixedPrices, noteFallenThrough } from '#sale/fixed-price/shown-price.service'
import { getLotRow } from '#sale/lots/lots.service'
import { listContracts } from '../journal/contracts.service'
import { hasStandingSale } from '../journal/sold.service'

/** A sale fell through, or stands again after all: what is told of its fixed price follows in the same turn. */
export const priceAfterBooks: Reaction = {
  to: ['money.reversal', 'money.corrected'],
  act(turn, { subject }) {
    if (/^lot:\d+$/.test(subject)) follow(turn, Number(subject.slice(4)))
  },
}

function follow(turn: Turn, number: number): void {
  const { id } = getLotRow(turn, number)
  const stands = hasStandingSale(turn, id)
  const standing = findStandingPrice(turn, id)
  if (standing && stands) {
    endPrice(turn, standing.id, 'taken back')
    turn.record({ kind: 'fixed-price.taken-back', subject: `lot:${number}`, body: { number } })
  }
  const last = listContracts(turn).findLast(({ lotId }) => lotId === id)
  const taken = listFixedPrices(turn, id).find(({ entryId }) => entryId !== null && entryId === last?.entryId)
  if (taken && stands === (taken.fellThroughAt !== null)) noteFallenThrough(turn, taken.id, stands ? null : turn.now)
}
