import { Notice } from '#app/_ui/notice.tsx'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import type { BidAnswer } from '#sale/bids/bids.contract'
import { sayTaken } from './news.rules'
import type { Checked } from './verify-receipt'

export interface Taken {
  answer: BidAnswer
  checked: Checked
}

/** What the house answered to a bid, and that this browser checked its receipt before saying "taken". */
export function TakenNotice({ answer, checked, frame }: Taken & { frame: LotFrame }) {
  if (checked.fault !== null)
    return (
      <Notice tone="bad" live="alert" title="The house answered, but its receipt does not hold">
        {checked.fault} Keep this page open and write to the seller.
      </Notice>
    )
  const said = sayTaken(answer, frame)
  if (!said) return null
  return (
    <Notice tone={said.leads ? 'ok' : 'doubt'} live="status" title={said.title}>
      {said.leads ? '' : 'Somebody’s maximum was already higher. '}Entry {answer.receipt.index + 1} of the history holds your bid; this
      browser checked it
      {checked.isSigned ? ' against the head that the house signed' : '; the house’s keys could not be fetched, so its signature was not'}.
    </Notice>
  )
}
