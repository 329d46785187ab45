import type { Role } from '#kernel/role'
import { shortAccount } from '#people/changes/changes.rules'
import type { PaymentTerms } from './invoices.contract'

type Account = Pick<PaymentTerms, 'accountName' | 'iban' | 'bic'>

export const accountWords = ({ accountName, iban, bic }: Account): string => shortAccount({ name: accountName, iban, bic })

/** Two accounts in words that tell them apart, also where only what lies between their first and last signs differs. */
export function changedAccountWords(before: Account, after: Account): { was: string; now: string } {
  const [was, now] = [accountWords(before), accountWords(after)]
  return { was, now: was === now ? `${now}, another account that begins and ends alike` : now }
}

/** Whose account it is counts too, where there is one: a bank compares it. */
export const isSameAccount = (a: Account, b: Account): boolean =>
  a.iban === b.iban && (a.iban === '' || (a.accountName === b.accountName && a.bic === b.bic))

const TAX_WORDS = { none: 'no tax', margin: 'margin scheme' } as const

/** What the terms of payment say beside the account, by what each part is called in a sentence. */
export const paymentWords = (terms: Omit<PaymentTerms, keyof Account>): Record<string, string> => ({
  'when an invoice is due': `after ${terms.dueDays} days`,
  'when buyers are reminded': `${terms.reminderDays.join(', ')} days late`,
  'whether reminders leave by themselves': terms.remindersAlone ? 'yes' : 'no',
  'when an unpaid lot may be offered to who came next': `after ${terms.offerAfterDays} days`,
  'how long such an offer is open': `${terms.offerOpenDays} days`,
  'what invoices state about tax': terms.taxScheme === 'rate' ? `${terms.taxRateBp / 100} % within the price` : TAX_WORDS[terms.taxScheme],
  'the seller’s number for tax': terms.taxNumber,
  'the words about tax on invoices': terms.taxWords,
})

/** Told to all of the staff, so that nobody sends buyers' money elsewhere unseen. */
export function accountLetter({
  by,
  role,
  was,
  now,
  terms,
  record,
}: {
  by: string
  role: Role
  was: string
  now: string
  terms: string
  record: string
}) {
  const from = was === '' ? 'There was none before.' : `Before: ${was}`
  const to = now === '' ? 'New invoices now show no account.' : `Now: ${now}`
  return {
    subject: 'The account that buyers pay into was changed',
    body: `${by} (${role}) changed the account of the campaign.\n\n${from}\n${to}\n\nInvoices that are out keep the account that they were issued with; new ones carry the new one.\n\nEveryone on the staff gets this letter. If you know nothing about this change, ask ${by} today, in person or by telephone, not by email. You can put the account right here: ${terms}\nWhat else was changed, and by whom: ${record}`,
  }
}
