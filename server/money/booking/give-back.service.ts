import { type Minor, plainMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import { readJournal } from '../journal/entries.service'
import { getStandingSale } from '../journal/sold.service'
import { typedDay } from '../journal/typed.service'
import { unplacedSums } from '../journal/unplaced.rules'
import { giveBackUnplaced } from './receive.service'
import { letGo, reverseSale } from './undo.service'

export interface GiveBack {
  key: string
  lot: number
  /** null: the whole sale is undone and everything that was paid is owed back. */
  amountMinor: Minor | null
  why: string
  /** The money has left the bank already; null: it is owed back and stands with the money without a home until it goes. */
  gone: { reference: string } | null
}

/** Something is wrong with what was sold: a part of the price is let go or the sale is undone, and what was paid too much goes back. */
export function giveBack(turn: Turn, actor: Actor, { key, lot, amountMinor, why, gone }: GiveBack): { givenBackMinor: Minor } {
  const { currency } = getCampaign(turn)
  const sale = getStandingSale(turn, lot)
  if (amountMinor !== null && amountMinor > sale.account.receivedMinor) {
    const came = plainMoney(sale.account.receivedMinor, currency)
    throw Refusal.at('amount', `Only ${came} was paid for lot ${lot}, so no more than that can be refunded.`)
  }
  const before = new Set(unplacedSums(readJournal(turn)).map(({ entryId }) => entryId))
  const { owedBackMinor } =
    amountMinor === null ? reverseSale(turn, actor, { key: `${key}-undone`, lot, why }) : letGo(turn, actor, { lot, amountMinor, why })
  const released = unplacedSums(readJournal(turn)).find(({ entryId }) => !before.has(entryId))
  if (gone && released && owedBackMinor > 0) {
    giveBackUnplaced(turn, {
      entryId: released.entryId,
      amountMinor: owedBackMinor,
      reference: gone.reference,
      valueOn: typedDay(turn, undefined),
      byPersonId: actor.personId,
      why,
    })
  }
  return { givenBackMinor: owedBackMinor }
}
