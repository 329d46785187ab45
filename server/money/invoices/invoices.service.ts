import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Role } from '#kernel/role'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import { noteChange, noteChanges } from '#people/changes/changes.service'
import { findPerson, listStaff } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { FixedPriceTerms } from '#sale/fixed-price/fixed-price.contract'
import { listFixedPrices } from '#sale/fixed-price/shown-price.service'
import { getLotRow, type LotRow } from '#sale/lots/lots.service'
import { showCreditorReference } from '../journal/creditor-reference.rules'
import type { SoldLot } from '../journal/sold.contract'
import { listSoldLots } from '../journal/sold.service'
import { countryOf } from '../sending/address.service'
import { daysLate, dueOn } from './due.rules'
import type { InvoiceView, PaymentTerms, PaymentTermsIn } from './invoices.contract'
import * as store from './invoices.store'
import { paymentCode } from './payment-code.rules'
import { accountLetter, changedAccountWords, isSameAccount, paymentWords } from './terms-words.rules'
import { invoiceLetter } from './words.rules'

/** Common practice, no source: what holds before anybody has said otherwise. */
const AT_FIRST: PaymentTerms = {
  accountName: '',
  iban: '',
  bic: '',
  dueDays: 7,
  reminderDays: [2, 4, 7],
  remindersAlone: false,
  offerAfterDays: 10,
  offerOpenDays: 3,
  taxScheme: 'none',
  taxRateBp: 0,
  taxNumber: '',
  taxWords: '',
}

export const paymentTerms = (sight: Sight): PaymentTerms => store.findTerms(sight.db, campaignNumber(sight)) ?? AT_FIRST

export function savePaymentTerms(turn: Turn, by: Actor, { taxRate, ...typed }: PaymentTermsIn): void {
  const before = paymentTerms(turn)
  const input = { ...typed, taxRateBp: typed.taxScheme === 'rate' ? Math.round(Number(taxRate) * 100) : 0 }
  if (input.taxScheme !== 'none' && findCampaign(turn)?.sellerKind === 'private')
    throw Refusal.at(
      'taxScheme',
      'The campaign says that a private person sells. If the seller trades, say so under Campaign first; if not, choose no tax.',
    )
  store.keepTerms(turn.db, campaignNumber(turn), input)
  noteChanges(turn, by, 'terms', paymentWords(before), paymentWords(input))
  if (isSameAccount(before, input)) return
  keepAccountOfInvoices(turn, before)
  const { was, now } = changedAccountWords(before, input)
  noteChange(turn, by, { kind: 'account', what: 'the account of the campaign', before: was, after: now })
  const letter = accountLetter({
    by: by.name,
    role: by.role,
    was,
    now,
    terms: `${turn.publicUrl}/bench/money/terms`,
    record: `${turn.publicUrl}/bench/record`,
  })
  for (const { email } of listStaff(turn)) turn.post({ to: email, ...letter })
  turn.record({ kind: 'invoices.terms-kept', subject: 'campaign', body: { dueDays: input.dueDays, hasAccount: input.iban !== '' } })
}

/** What is out when the account changes goes on naming the one that its buyer was told. */
function keepAccountOfInvoices(turn: Turn, { accountName, iban, bic }: PaymentTerms): void {
  if (iban === '') return
  for (const { number, buyerPersonId, state } of listSoldLots(turn))
    if (buyerPersonId !== null && state !== 'fell through')
      store.keepInvoiceAccount(turn.db, { lotId: getLotRow(turn, number).id, personId: buyerPersonId, accountName, iban, bic })
}

/** The invoice of a lot by its number; null where no sale stands or its buyer is not known here. */
export function findInvoice(sight: Sight, number: number): InvoiceView | null {
  const sold = listSoldLots(sight).find((one) => one.number === number)
  return sold && sold.buyerPersonId !== null && sold.state !== 'fell through' ? invoiceOf(sight, sold) : null
}

/** Who keeps the books: a buyer's name and what they owe are for them alone. */
const BOOK_KEEPERS: readonly Role[] = ['maker', 'treasurer']
export const mayKeepBooks = ({ role }: Pick<Actor, 'role'>): boolean => BOOK_KEEPERS.includes(role)

/** For its buyer and for those who keep the books; for everybody else it is as if there were none. */
export function findInvoiceFor(sight: Sight, actor: Actor, number: number): InvoiceView | null {
  const sold = listSoldLots(sight).find((one) => one.number === number)
  return mayKeepBooks(actor) || sold?.buyerPersonId === actor.personId ? findInvoice(sight, number) : null
}

export function invoiceOf(sight: Sight, sold: SoldLot): InvoiceView {
  const together = togetherWith(sight, sold)
  const campaign = getCampaign(sight)
  const terms = paymentTerms(sight)
  const row = getLotRow(sight, sold.number)
  const offer = store
    .listOffersOfLot(sight.db, row.id)
    .find(({ answer, personId }) => answer === 'accepted' && personId === sold.buyerPersonId)
  const sale = row.terms?.sale
  const own = offer?.terms ?? listFixedPrices(sight, row.id).find(({ entryId }) => entryId === sold.contractId)?.terms
  const { soldAt } = sold
  const due = dueOn(soldAt, own?.dueDays ?? terms.dueDays, campaign.zone)
  const { accountName, iban, bic } = (sold.buyerPersonId && store.findInvoiceAccount(sight.db, row.id, sold.buyerPersonId)) || terms
  const account = iban === '' ? null : { name: accountName, iban, bic }
  const country = sold.buyerPersonId === null ? '' : (countryOf(sight, row.id, sold.buyerPersonId) ?? '')
  const isPayableByCode = account !== null && campaign.currency === 'EUR' && (together?.owedMinor ?? sold.owedMinor) > 0
  return {
    lot: sold.number,
    title: sold.title,
    unit: sold.unit,
    state: sold.state,
    currency: campaign.currency,
    buyer: sold.buyer,
    seller: sale?.seller ?? campaign.sellerName,
    sellerAddress: campaign.sellerAddress,
    sellerKind: sale?.sellerKind ?? campaign.sellerKind,
    cause: sale?.cause ?? campaign.causeName,
    causeRegistration: sale?.causeRegistration ?? campaign.causeRegistration,
    shareBp: sale?.causeShareBp ?? campaign.causeShareBp,
    by: sold.by,
    hammerMinor: sold.hammerMinor,
    postageMinor: sold.postageMinor,
    country: country && countryName(country),
    receivedMinor: sold.receivedMinor,
    owedMinor: sold.owedMinor,
    estimate: row.lowMinor !== null && row.highMinor !== null ? { lowMinor: row.lowMinor, highMinor: row.highMinor } : null,
    extras: sale?.extras ?? [],
    soldAt,
    dueOn: due,
    daysLate: daysLate(due, sight.now, campaign.zone),
    reference: showCreditorReference(sold.reference),
    together,
    account,
    payment: isPayableByCode
      ? paymentCode({
          accountName,
          iban,
          bic,
          amountMinor: together?.owedMinor ?? sold.owedMinor,
          reference: sold.reference,
        })
      : null,
    howToPay: campaign.howToPay,
    cancelWords: own?.cancelWords ?? sale?.cancelWords ?? campaign.cancelWords,
    zone: campaign.zone,
  }
}

/** What else its buyer pays under the same reference. */
function togetherWith(sight: Sight, sold: SoldLot): InvoiceView['together'] {
  const all = listSoldLots(sight).filter(
    ({ reference, buyerPersonId }) => reference === sold.reference && buyerPersonId === sold.buyerPersonId,
  )
  if (all.length < 2) return null
  return { lots: all.map(({ number }) => number), owedMinor: all.reduce((sum, { owedMinor }) => sum + owedMinor, 0) }
}

/** What a contract of a lot says that no hammer makes, as things stand now. */
export function contractTerms(sight: Sight, row: LotRow): FixedPriceTerms {
  const campaign = getCampaign(sight)
  const sale = row.terms?.sale
  return {
    title: sale?.title ?? row.title,
    unit: row.unitTag,
    seller: sale?.seller ?? campaign.sellerName,
    sellerKind: sale?.sellerKind ?? campaign.sellerKind,
    cause: sale?.cause ?? campaign.causeName,
    shareBp: sale?.causeShareBp ?? campaign.causeShareBp,
    cancelWords: sale?.cancelWords ?? campaign.cancelWords,
    dueDays: paymentTerms(sight).dueDays,
  }
}

/** What is to pay goes out by email; called in the turn that made the sale. */
export function mailInvoice(turn: Turn, number: number): void {
  const view = findInvoice(turn, number)
  const buyer = listSoldLots(turn).find((one) => one.number === number)?.buyerPersonId
  const to = buyer ? findPerson(turn, buyer)?.email : undefined
  if (!view || !to) return
  const links = {
    page: `${turn.publicUrl}/me/won/${number}`,
    paper: `${turn.publicUrl}/lots/${number}/invoice.pdf`,
    all: `${turn.publicUrl}/me/invoices`,
  }
  turn.post({ to, ...invoiceLetter(view, (minor) => showMoney(minor, view.currency), links) })
}

/** The next campaign begins with the payment terms of the one before. */
export function carryPaymentTerms(turn: Turn, from: number, to: number): void {
  const terms = store.findTerms(turn.db, from)
  if (terms) store.keepTerms(turn.db, to, terms)
}
