import { Refusal } from '#kernel/refusal'
import { inEveryCampaign } from '#people/campaign/which.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { getLotRow } from '#sale/lots/lots.service'
import type { SoldLot } from '../journal/sold.contract'
import { listSoldLots } from '../journal/sold.service'
import { isSent } from './sent.service'

/** Sold lots whose buyer is known here and whose sale stands, or which had left before it fell through. */
export const listToSend = (sight: Sight): SoldLot[] =>
  listSoldLots(sight).filter(
    ({ buyerPersonId, state, number }) =>
      buyerPersonId !== null && (state !== 'fell through' || isSent(sight, getLotRow(sight, number).id)),
  )

export function getToSend(sight: Sight, number: number): SoldLot & { buyerPersonId: string } {
  const found = listToSend(sight).find((one) => one.number === number)
  if (!found || found.buyerPersonId === null)
    throw Refusal.at('lot', `Lot ${number} has no sale that stands, so there is nothing to send.`, 'not-found')
  return { ...found, buyerPersonId: found.buyerPersonId }
}

/** Whether somebody has bought something that was sent to them, so that they may show what is wrong with it. */
export const hasBeenSentALot = (sight: Sight, personId: string): boolean =>
  inEveryCampaign(sight, listToSend).some(
    ({ buyerPersonId, number }) => buyerPersonId === personId && isSent(sight, getLotRow(sight, number).id),
  )

/** The buyer's own; for everybody else it is as if there were none. */
export function getWon(sight: Sight, actor: Actor, number: number): SoldLot & { buyerPersonId: string } {
  const found = listToSend(sight).find((one) => one.number === number && one.buyerPersonId === actor.personId)
  if (!found || found.buyerPersonId === null) throw new Refusal('not-found', `You have not won lot ${number}.`)
  return { ...found, buyerPersonId: found.buyerPersonId }
}
