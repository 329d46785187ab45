import { showMoney } from '#kernel/money'
import type { Turn } from '#runtime/queue/turn'
import { longDay } from '../invoices/words.rules'
import { lotsInWords } from '../journal/lot-words.rules'
import { documentTitle } from './document-words.rules'
import type { DocumentContent } from './documents.contract'

/** The buyer is told of each document with the address at which it stays. */
export function tellIssued(turn: Turn, content: DocumentContent, to: string | undefined): void {
  if (!to) return
  const { kind, number, lines, grossMinor, differenceMinor, currency, why } = content
  const show = (minor: number) => showMoney(minor, currency)
  const lots = [...new Set(lines.map(({ lot }) => lot))]
  const forLots = lotsInWords(lots)
  const said = {
    invoice: `Here is your invoice for ${forLots}, over ${show(grossMinor)}, due by ${longDay(content.dueOn)} under the reference on it. What you have paid already counts.`,
    'credit note': `${show(grossMinor)} of your invoice was credited: ${why}\n\nYou owe that much less; what you paid beyond what stands now is refunded.`,
    'corrected invoice': `Your invoice was corrected: ${why}\n\nIt now comes to ${show(grossMinor)}${differenceMinor === 0 ? '' : `, ${show(Math.abs(differenceMinor))} ${differenceMinor > 0 ? 'more' : 'less'} than before`}.`,
  }[kind]
  const paper = `${turn.publicUrl}/lots/${lots[0] ?? ''}/invoices/${number}.pdf`
  turn.post({
    to,
    subject: `${documentTitle(content)}: ${show(grossMinor)}`,
    body: `${said}\n\nAs PDF: ${paper}\nAll your invoices: ${turn.publicUrl}/me/invoices`,
  })
}
