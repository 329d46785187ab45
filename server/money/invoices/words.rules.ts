import { showIban } from './iban.rules'
import type { InvoiceView } from './invoices.contract'

/** "14 March 2027". */
export function longDay(day: string): string {
  return new Date(`${day}T12:00:00Z`).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' })
}

/** How to pay, for a mail or a page without a code to read. */
export function payWords({
  account,
  reference,
  howToPay,
  currency,
}: Pick<InvoiceView, 'account' | 'reference' | 'howToPay' | 'currency'>): string {
  const to = account
    ? `\nTo: ${account.name}\nIBAN: ${showIban(account.iban)}${account.bic ? `\nBIC: ${account.bic}` : ''}\nCurrency: ${currency}`
    : ''
  return `Reference: ${reference}${to}${howToPay === '' ? '' : `\n\n${howToPay}`}`
}

/** The mail at the close, or when an offer was taken. */
export function invoiceLetter(view: InvoiceView, show: (minor: number) => string, links: { page: string; paper: string; all: string }) {
  const share = view.shareBp === 10_000 ? 'all of it' : `${view.shareBp / 100} % of it`
  const estimate = view.estimate
    ? ` The estimate published before bidding was ${show(view.estimate.lowMinor)} to ${show(view.estimate.highMinor)}.`
    : ''
  const postage = view.postageMinor === 0 ? '' : `\nPostage to ${view.country || 'you'}: ${show(view.postageMinor)}`
  return {
    subject: view.by === 'fixed price' ? `Lot ${view.lot} is yours: ${view.title}` : `You won lot ${view.lot}, ${view.title}`,
    body: `${view.by === 'hammer' ? 'The hammer fell' : 'The sale is made'} at ${show(view.hammerMinor)}; ${share} goes to ${view.cause}.${estimate}

Lot ${view.lot}: ${view.title} (${view.unit})
Price: ${show(view.hammerMinor)}${postage}
Together: ${show(view.hammerMinor + view.postageMinor)}, to pay by ${longDay(view.dueOn)}

${payWords(view)}

Tell us where to send it, and to whom your invoice is made out: ${links.page}
What is to pay, as PDF: ${links.paper}
If you won more than one lot, you can have one invoice for all of them, and pay once: ${links.all}

${view.cancelWords === '' ? '' : `If you need to cancel: ${view.cancelWords}\n\n`}Sold by ${view.seller}${view.sellerAddress === '' ? '' : `, ${view.sellerAddress}`}`,
  }
}

/** A reminder as it is proposed: the first friendly, the last plain about what comes next. Whoever sends it may write it anew. */
export function reminderLetter(
  view: Pick<InvoiceView, 'owedMinor' | 'receivedMinor' | 'dueOn' | 'reference' | 'account' | 'howToPay' | 'currency' | 'by'> & {
    what: string
  },
  { step, steps, offerOn, isOfferOpen }: { step: number; steps: number; offerOn: string; isOfferOpen: boolean },
  show: (minor: number) => string,
  page: string,
) {
  const { what, receivedMinor } = view
  const isMany = what.startsWith('lots ')
  const opening =
    step === 1
      ? `Your payment may have crossed with this email: for ${what}, we have not seen ${receivedMinor > 0 ? 'the rest of the money' : 'your payment'} yet. It was due on ${longDay(view.dueOn)}.`
      : `${what.replace(/^l/, 'L')}${isMany ? '' : ','} ${isMany ? 'were' : 'was'} due to be paid by ${longDay(view.dueOn)} and ${isMany ? 'are' : 'is'} not${receivedMinor > 0 ? ' in full' : ''}.`
  const next = view.by === 'fixed price' ? 'somebody else' : 'the bidder behind you'
  const ends = isOfferOpen
    ? `We can end this sale from now on and offer the lot to ${next}.`
    : `If nothing has come by ${longDay(offerOn)}, we end this sale and offer the lot to ${next}.`
  const closing =
    step === steps
      ? `${ends} If something stands in the way, reply to this email before then.`
      : 'If something stands in the way, reply to this email and we will find a way.'
  const paid = receivedMinor > 0 ? `Received so far: ${show(receivedMinor)}\n` : ''
  return {
    subject: `${step === 1 ? 'A reminder' : step === steps ? 'Last reminder' : 'Second reminder'}: ${isMany ? what : what.split(',')[0]}, ${show(view.owedMinor)} to pay`,
    body: `${opening}\n\n${paid}To pay: ${show(view.owedMinor)}\n${payWords(view)}\n\nYour invoice: ${page}\n\n${closing}`,
  }
}
