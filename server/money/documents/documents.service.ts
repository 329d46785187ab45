import { type Currency, type Minor, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { latestDay } from '../invoices/due.rules'
import { taxTermsOf } from '../invoices/invoices.contract'
import { invoiceOf, paymentTerms } from '../invoices/invoices.service'
import { paymentCode } from '../invoices/payment-code.rules'
import { longDay } from '../invoices/words.rules'
import { type Contract, listContracts, payTogether } from '../journal/contracts.service'
import { SOLD_BY } from '../journal/lot-words.rules'
import type { SoldLot } from '../journal/sold.contract'
import { listSoldLots } from '../journal/sold.service'
import { today } from '../journal/value-day.rules'
import { type Chain, chainsOf, nextDocument, type Stated, statedBy, wholeOf } from './chain.rules'
import type { DocumentContent, DocumentLine, IssueIn, MakeOutIn } from './documents.contract'
import * as store from './documents.store'
import { tellIssued } from './issued-letter.service'
import { taxWithin } from './tax.rules'

export const readChains = (sight: Sight): Map<number, DocumentContent[]> =>
  chainsOf(store.listDocuments(sight.db).map(({ content }) => content))

/** The invoice of a contract with all that followed it; undefined where none was issued. */
export const chainOf = (chains: ReadonlyMap<number, Chain>, contractId: string): Chain | undefined =>
  [...chains.values()].find((chain) => chain.some(({ lines }) => lines.some(({ contract }) => contract === contractId)))

/** Contracts that stand, whose buyer is known here, and for which no invoice was issued. */
export function listUninvoiced(sight: Sight): Contract[] {
  const chains = readChains(sight)
  return listContracts(sight).filter(
    ({ entryId, personId, isLast, priceMinor }) => personId !== null && isLast && priceMinor > 0 && !chainOf(chains, entryId),
  )
}

/** The staff issue it for a buyer. */
export function issueForBuyer(turn: Turn, actor: Actor, input: IssueIn): { number: number } {
  return once(turn, input.key, input, () => issue(turn, { ...input, contracts: chosen(turn, input.lots), by: actor.personId }))
}

/** A buyer has their own issued, over all that they choose of what they won. */
export function issueMine(turn: Turn, actor: Actor, input: IssueIn): { number: number } {
  return once(turn, input.key, input, () => {
    const won = new Set(listContracts(turn).flatMap(({ lot, personId, isLast }) => (isLast && personId === actor.personId ? [lot] : [])))
    const other = input.lots.find((lot) => !won.has(lot))
    if (other !== undefined) throw new Refusal('not-found', `You have not won lot ${other}.`)
    return issue(turn, { ...input, contracts: chosen(turn, input.lots), by: actor.personId })
  })
}

function chosen(sight: Sight, lots: readonly number[]): Contract[] {
  const free = new Map(listUninvoiced(sight).map((contract) => [contract.lot, contract]))
  return lots
    .toSorted((a, b) => a - b)
    .map((lot) => {
      const contract = free.get(lot)
      if (!contract)
        throw Refusal.at(
          'lots',
          `Lot ${lot} has no sale that waits for an invoice: one was issued, or the sale does not stand.`,
          'conflict',
        )
      return contract
    })
}

export interface ToIssue {
  contracts: readonly Contract[]
  name: string
  address: string
  by: string | null
}

/** One invoice over contracts of one buyer. Several are from then on paid under one reference. */
export function issue(turn: Turn, { contracts, name, address, by }: ToIssue): { number: number } {
  const [first] = contracts
  const personId = first?.personId
  if (!first || !personId) throw Refusal.at('lots', 'Choose at least one lot.')
  if (contracts.some((one) => one.personId !== personId))
    throw Refusal.at('lots', 'These lots have different buyers. An invoice is made out to one of them.', 'conflict')
  const { currency, zone } = getCampaign(turn)
  const number = store.nextNumber(turn.db)
  const reference =
    contracts.length > 1
      ? payTogether(
          turn,
          contracts.map(({ entryId }) => entryId),
          number,
        )
      : first.reference
  const all = listSoldLots(turn)
  const views = contracts.flatMap(({ lot }) => {
    const sold = all.find((one) => one.number === lot)
    return sold ? [{ lot, view: invoiceOf(turn, sold) }] : []
  })
  const view = views[0]?.view
  if (!view) throw Refusal.at('lots', 'Choose at least one lot.')
  const tax = taxTermsOf(paymentTerms(turn))
  const owedMinor = all.reduce((sum, one) => (contracts.some(({ lot }) => lot === one.number) ? sum + one.owedMinor : sum), 0)
  const content: DocumentContent = {
    number,
    kind: 'invoice',
    about: null,
    why: '',
    issuedOn: today(turn.now, zone),
    currency,
    seller: { name: view.seller, address: view.sellerAddress, kind: sellerKindOf(turn) },
    buyer: { name, address },
    ...summed(standingLines(turn, contracts, all), tax),
    tax,
    differenceMinor: 0,
    reference,
    account: view.account,
    payment: codeOf(view.account, { currency, owedMinor, reference }),
    howToPay: view.howToPay,
    dueOn: latestDay(views.map((one) => one.view.dueOn)),
    sold: views.map((one) => soldWords(one.lot, one.view)),
    cause: causeWords(view),
    estimates: views.flatMap((one) => (one.view.estimate ? [estimateWords(one.lot, one.view.estimate, currency)] : [])),
    cancelWords: view.cancelWords,
  }
  keep(turn, content, personId, by)
  return { number }
}

function soldWords(lot: number, view: ReturnType<typeof invoiceOf>): string {
  const day = longDay(today(view.soldAt, view.zone))
  return `Lot ${lot}: ${SOLD_BY[view.by]}, on ${day}.`
}

const estimateWords = (lot: number, { lowMinor, highMinor }: { lowMinor: Minor; highMinor: Minor }, currency: Currency): string =>
  `Lot ${lot}: ${showMoney(lowMinor, currency)} to ${showMoney(highMinor, currency)}.`

function causeWords({ cause, causeRegistration, shareBp }: ReturnType<typeof invoiceOf>): string {
  const registered = causeRegistration === '' ? '' : `, registered ${causeRegistration}`
  return `${cause}${registered}; ${shareBp === 10_000 ? 'the whole price goes to it' : `${shareBp / 100} % of the price goes to it`}.`
}

const sellerKindOf = (sight: Sight): DocumentContent['seller']['kind'] => getCampaign(sight).sellerKind

/** What stands of contracts now, as the lines of a document. */
function standingLines(sight: Sight, contracts: readonly Contract[], all: readonly SoldLot[] = listSoldLots(sight)): Stated[] {
  return contracts.flatMap(({ entryId: contract, lot, priceMinor, postageMinor }): Stated[] => {
    const sold = all.find(({ number }) => number === lot)
    const name = `Lot ${lot}, ${sold?.title ?? ''} (${sold?.unit ?? ''})`
    return [
      { contract, lot, of: 'price', words: name, minor: priceMinor },
      ...(postageMinor > 0
        ? ([{ contract, lot, of: 'postage', words: `Postage of lot ${lot}`, minor: postageMinor }] satisfies Stated[])
        : []),
    ]
  })
}

function summed(stated: readonly Stated[], tax: DocumentContent['tax']): Pick<DocumentContent, 'lines' | 'grossMinor' | 'taxMinor'> {
  const lines = stated.map(({ minor, ...line }): DocumentLine => ({ ...line, grossMinor: minor, taxMinor: taxWithin(minor, tax) }))
  return {
    lines,
    grossMinor: lines.reduce((sum, { grossMinor }) => sum + grossMinor, 0),
    taxMinor: lines.reduce((sum, { taxMinor }) => sum + taxMinor, 0),
  }
}

/** What a bank's program reads off the sheet; null where nothing is to pay, and for an account that cannot be paid in euros so. */
function codeOf(
  account: DocumentContent['account'],
  { currency, owedMinor, reference }: { currency: Currency; owedMinor: Minor; reference: string },
): DocumentContent['payment'] {
  if (!account || currency !== 'EUR') return null
  const { name: accountName, iban, bic } = account
  const text = paymentCode({ accountName, iban, bic, amountMinor: owedMinor, reference })
  return text === null ? null : { text, amountMinor: owedMinor }
}

function keep(turn: Turn, content: DocumentContent, personId: string, by: string | null): void {
  const { number, kind, about } = content
  store.insertDocument(turn.db, {
    number,
    kind,
    about: about?.number ?? null,
    personId,
    issuedAt: turn.now,
    issuedByPersonId: by,
    content,
  })
  turn.record({ kind: 'invoice.issued', subject: 'money', body: { number, is: kind } })
  tellIssued(turn, content, findPerson(turn, personId)?.email)
}

/** What was booked changed what stands of a lot: the documents of its contracts follow, each by a further one. */
export function followLot(turn: Turn, lot: number, why: string): void {
  const contracts = listContracts(turn)
  const chains = readChains(turn)
  const touched = new Set(contracts.filter((one) => one.lot === lot).map(({ entryId }) => chainOf(chains, entryId)))
  for (const chain of touched) {
    const whole = chain && wholeOf(chain)
    if (!chain || !whole) continue
    const ids = new Set(statedBy(chain).map(({ contract }) => contract))
    const words = new Map(statedBy(chain).map(({ contract, of, words: said }) => [`${contract} ${of}`, said]))
    const standing = standingLines(
      turn,
      contracts.filter(({ entryId }) => ids.has(entryId)),
    ).map((line) => ({ ...line, words: words.get(`${line.contract} ${line.of}`) ?? line.words }))
    const next = nextDocument(chain, standing)
    if (next) followWith(turn, whole, { ...next, why })
  }
}

function followWith(
  turn: Turn,
  whole: DocumentContent,
  next: NonNullable<ReturnType<typeof nextDocument>> & { why: string; buyer?: DocumentContent['buyer']; by?: string },
): number {
  const number = store.nextNumber(turn.db)
  const personId = store.findDocument(turn.db, whole.number)?.personId ?? ''
  const { currency, reference, account } = whole
  const contracts = new Set(next.lines.map(({ contract }) => contract))
  const owedMinor = listSoldLots(turn).reduce((sum, one) => (contracts.has(one.contractId) ? sum + one.owedMinor : sum), 0)
  const content: DocumentContent = {
    ...whole,
    number,
    kind: next.kind,
    about: { number: whole.number, issuedOn: whole.issuedOn },
    why: next.why,
    issuedOn: today(turn.now, getCampaign(turn).zone),
    buyer: next.buyer ?? whole.buyer,
    ...summed(next.lines, whole.tax),
    differenceMinor: next.differenceMinor,
    payment: next.kind === 'credit note' ? null : codeOf(account, { currency, owedMinor, reference }),
  }
  keep(turn, content, personId, next.by ?? null)
  return number
}

/** A document that was made out to somebody else, or elsewhere, is followed by one that puts it right. */
export function makeOut(turn: Turn, actor: Actor, input: MakeOutIn): { number: number } {
  return once(turn, input.key, input, () => {
    const chain = [...readChains(turn).values()].find((one) => one.some(({ number }) => number === input.number))
    const whole = chain && wholeOf(chain)
    if (!chain || !whole) throw Refusal.at('number', `There is no invoice ${input.number}. Reload the page.`, 'not-found')
    const { name, address } = input
    if (whole.buyer.name === name && whole.buyer.address === address)
      throw Refusal.at('name', 'It is made out like that already. Change the name or the address.', 'conflict')
    const lines = statedBy(chain).filter(({ minor }) => minor !== 0)
    if (lines.length === 0)
      throw Refusal.at('number', 'All of that invoice was credited, so there is nothing left to make out again.', 'conflict')
    const next = {
      kind: 'corrected invoice',
      lines,
      differenceMinor: 0,
      why: input.why,
      buyer: { name, address },
      by: actor.personId,
    } as const
    return { number: followWith(turn, whole, next) }
  })
}
