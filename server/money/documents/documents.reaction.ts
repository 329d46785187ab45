import { campaignNumber, inCampaign } from '#people/campaign/which.service'
import type { Reaction } from '#runtime/queue/reactions'
import type { Turn } from '#runtime/queue/turn'
import { campaignOfLot } from '#sale/lots/lots.service'
import { findEntry } from '../journal/entries.service'
import { listSoldLots } from '../journal/sold.service'
import { followLot, issue, listUninvoiced } from './documents.service'
import { madeOutTo } from './made-out.service'

const lotIn = (subject: string): number | null => (/^lot:\d+$/.test(subject) ? Number(subject.slice(4)) : null)

/** Looked at in the campaign of the lot, whatever the turn began with. */
const ofLot = (turn: Turn, lot: number): Turn => inCampaign(turn, campaignOfLot(turn, lot) ?? campaignNumber(turn))

/** What was booked changes what stands of a sale: its documents follow in the same turn, in the words of the entry. */
export const documentsFollow: Reaction = {
  to: ['money.reduction', 'money.reversal', 'money.postage', 'money.corrected'],
  act(turn, { subject, body }) {
    const lot = lotIn(subject)
    if (lot !== null) followLot(ofLot(turn, lot), lot, findEntry(turn, String(body.entry))?.memo ?? '')
  },
}

/** What is paid in full is invoiced at the latest then, as soon as its buyer has said where they live. */
export const invoiceWhatIsPaid: Reaction = {
  to: ['money.payment', 'money.reduction', 'money.postage', 'sending.address-given'],
  act(turn, { subject }) {
    const lot = lotIn(subject)
    if (lot !== null) issueIfPaid(ofLot(turn, lot), lot)
  },
}

function issueIfPaid(turn: Turn, lot: number): void {
  const contract = listUninvoiced(turn).find((one) => one.lot === lot)
  const sold = listSoldLots(turn).find(({ number }) => number === lot)
  if (!contract || !sold || sold.owedMinor > 0) return
  const { name, address } = madeOutTo(turn, contract.personId ?? '', [contract])
  if (address !== '') issue(turn, { contracts: [contract], name, address, by: null })
}
