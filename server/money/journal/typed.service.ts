import { type Minor, parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { valueDay } from './value-day.rules'

/** Money as a verb of the journal takes it: its amount read, with what stands on the bank's paper. */
export interface OnPaper {
  amountMinor: Minor
  reference: string
  /** The day on the bank's paper, `2027-03-14`. */
  valueOn: string
  byPersonId: string
}

/** What a person typed into a form of the journal, read. Refuses at `amount` and `on`. */
export const onPaper = (
  sight: Sight,
  actor: Actor,
  { amount, reference, on }: { amount: string; reference?: string; on?: string },
): OnPaper => ({
  amountMinor: typedAmount(sight, amount),
  reference: reference ?? '',
  valueOn: typedDay(sight, on),
  byPersonId: actor.personId,
})

/** Reads what was typed at `amount` in the campaign's currency; nought is refused. */
export function typedAmount(sight: Sight, text: string): Minor {
  const amountMinor = parseMoney(text, getCampaign(sight).currency, 'amount')
  if (amountMinor === 0) throw Refusal.at('amount', 'Write an amount above zero.')
  return amountMinor
}

/** The day that was typed at `on`, or today, in the campaign's zone. */
export const typedDay = (sight: Sight, typed: string | undefined): string => valueDay(typed ?? '', sight.now, getCampaign(sight).zone)
