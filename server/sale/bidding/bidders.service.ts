import { findPaddle, findPerson } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { listBidsOfLot } from '../bids/bids.service'
import { getLotRow } from '../lots/lots.service'

export interface Bidder {
  alias: string
  paddle: number | null
  name: string
  bids: number
  leads: boolean
  isVoided: boolean
}

/** Who bids on a lot, for the staff who run the sale; no maximum is shown to anybody but its owner. */
export function readBidders(sight: Sight, number: number) {
  const row = getLotRow(sight, number)
  const bids = listBidsOfLot(sight, row.id)
  const bidders = listAliases(sight, row.id).map(
    ({ alias, personId, voidedAt }): Bidder => ({
      alias,
      paddle: findPaddle(sight, personId)?.number ?? null,
      name: findPerson(sight, personId)?.name ?? '',
      bids: bids.filter((one) => one.personId === personId).length,
      leads: row.leaderAlias === alias,
      isVoided: voidedAt !== null,
    }),
  )
  return { bidders }
}
