import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Turn } from '#runtime/queue/turn'
import { takePayment, takeUnplaced } from '../booking/receive.service'
import { listContracts } from '../journal/contracts.service'
import { listSoldLots } from '../journal/sold.service'
import { onPaper } from '../journal/typed.service'
import { statedBy } from './chain.rules'
import type { PayInvoiceIn } from './documents.contract'
import { readChains } from './documents.service'

/** One payment for all that stands on an invoice, laid on its lots in their order; in the journal each lot has its own. */
export function payInvoice(turn: Turn, actor: Actor, input: PayInvoiceIn): { entries: number } {
  return once(turn, input.key, input, () => {
    const chain = readChains(turn).get(input.number)
    if (!chain) throw Refusal.at('number', `There is no invoice ${input.number}. Reload the page.`, 'not-found')
    const ids = new Set(statedBy(chain).map(({ contract }) => contract))
    const { amountMinor, ...paper } = onPaper(turn, actor, input)
    const owing = listSoldLots(turn).filter(({ contractId, owedMinor }) => ids.has(contractId) && owedMinor > 0)
    const owedMinor = owing.reduce((sum, one) => sum + one.owedMinor, 0)
    const { currency } = getCampaign(turn)
    if (amountMinor > owedMinor && input.over === 'refuse')
      throw Refusal.at(
        'amount',
        `That invoice has ${showMoney(owedMinor, currency)} to pay. Check the amount, or choose to hold the rest as unallocated until the buyer has said what it is for.`,
      )
    let left = amountMinor
    let entries = 0
    for (const { number, owedMinor: owed } of owing) {
      const part = Math.min(left, owed)
      if (part === 0) break
      takePayment(turn, { ...paper, amountMinor: part, lot: number, over: 'refuse' })
      left -= part
      entries += 1
    }
    if (left > 0) {
      const personId = listContracts(turn).find(({ entryId }) => ids.has(entryId))?.personId ?? null
      takeUnplaced(turn, { ...paper, amountMinor: left, memo: `More than invoice ${input.number} asks for: not allocated yet`, personId })
      entries += 1
    }
    return { entries }
  })
}
