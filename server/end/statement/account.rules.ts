import type { Minor } from '#kernel/money'
import type { Books, JournalLine } from '#money/books/books.contract'
import { referenceWithin } from '#money/journal/creditor-reference.rules'
import type { Account as BookAccount, EntryKind } from '#money/journal/journal.rules'
import { lotsInWords } from '#money/journal/lot-words.rules'
import type { SoldLot } from '#money/journal/sold.contract'
import type { PostageAccount } from '#money/sending/sending.contract'
import type { AccountLine, AccountPart } from './account.contract'

type Sold = Pick<
  SoldLot,
  'number' | 'unit' | 'hammerMinor' | 'causeMinor' | 'postageMinor' | 'receivedMinor' | 'owedMinor' | 'reference' | 'by'
>

/** The parts of the account in their order. It names no donor and no buyer, since the cause needs the sums only. */
export function accountParts(
  books: Pick<Books, 'journal' | 'unplaced' | 'promises'> & {
    lots: readonly Sold[]
    postage: Pick<PostageAccount, 'parcels' | 'otherMinor'>
    madeByBank: ReadonlySet<string>
  },
): AccountPart[] {
  const { unplaced, promises, lots, postage, madeByBank } = books
  // What a bank writes of a payment names who made it, and the account names nobody.
  const said = (id: string, reference: string) => (madeByBank.has(id) ? referenceWithin(reference) : reference)
  const journal = books.journal.map((entry) =>
    NAMING.includes(entry.kind) ? { ...entry, reference: said(entry.corrects?.id ?? entry.id, entry.reference) } : entry,
  )
  const byLot = (key: string, title: string, amount: (lot: Sold) => Minor): AccountPart =>
    part(
      key,
      title,
      lots.map((lot) => ({
        what: lot.by === 'fixed price' ? `${lot.unit}, at a fixed price` : lot.unit,
        lot: lot.number,
        day: '',
        reference: lot.reference,
        minor: amount(lot),
      })),
    )
  return [
    byLot(
      'hammer',
      lots.some(({ by }) => by === 'fixed price') ? 'Hammer prices and fixed prices' : 'Hammer prices',
      ({ hammerMinor }) => hammerMinor,
    ),
    byLot('share', 'The cause’s share of them', ({ causeMinor }) => causeMinor),
    byLot('postage', 'Postage charged to buyers', ({ postageMinor }) => postageMinor),
    byLot('paid', 'Paid by buyers', ({ receivedMinor }) => receivedMinor),
    byLot('unpaid', 'Unpaid by buyers', ({ owedMinor }) => owedMinor),
    fromJournal('gifts', 'Gifts of money', journal, ['gift'], ['owed-to-cause'], -1, () => 'A gift of money'),
    fromJournal('matched', 'Matched giving received', journal, ['matched'], ['owed-to-cause'], -1, () => 'Matched giving'),
    part(
      'matched-due',
      'Matched giving promised and still to come',
      promises.map(({ dueMinor }) => ({ what: 'Promised', lot: null, day: '', reference: '', minor: dueMinor })),
    ),
    fromJournal('costs', 'Costs and fees', journal, ['cost', 'fee'], COSTS, 1, costWords),
    part('sending', 'Of the costs: what sending cost, parcel by parcel', sendingLines(postage)),
    fromJournal('refunds', 'Paid back to buyers and payers', journal, ['refund'], ['bank'], -1, () => 'Paid back'),
    part(
      'unplaced',
      'Came in and not yet allocated',
      unplaced.map((line) => ({
        what: line.isOwedBack ? 'Owed back' : 'Unallocated',
        lot: line.lot,
        day: line.valueOn,
        reference: said(line.entryId, line.reference),
        minor: line.leftMinor,
      })),
    ),
    fromJournal('remitted', 'Passed on to the cause', journal, ['remittance'], ['owed-to-cause'], 1, () => 'Passed on'),
    where(journal),
    whose(journal),
  ]
}

const sendingLines = ({ parcels, otherMinor }: Pick<PostageAccount, 'parcels' | 'otherMinor'>): AccountLine[] => [
  ...parcels.flatMap(({ lots, costMinor }) => (costMinor === null ? [] : [plain(`The parcel of ${lotsInWords(lots)}`, costMinor)])),
  ...(otherMinor === 0 ? [] : [plain('For no single parcel, such as boxes', otherMinor)]),
]

const NAMING: readonly EntryKind[] = ['gift', 'matched', 'refund', 'payment', 'unplaced']

const COSTS: readonly BookAccount[] = ['cost-to-cause', 'cost-to-seller', 'cost-of-sending']
const BORNE_BY: Partial<Record<BookAccount, string>> = {
  'cost-to-cause': 'borne by the cause',
  'cost-to-seller': 'borne by the seller',
  'cost-of-sending': 'paid out of postage',
}

const costWords = (entry: JournalLine): string => {
  const bearer = entry.postings.map(({ account }) => BORNE_BY[account]).find(Boolean)
  return bearer ? `${entry.memo}, ${bearer}` : entry.memo
}

const sumOn = (journal: readonly JournalLine[], ...accounts: BookAccount[]): Minor =>
  journal.flatMap(({ postings }) => postings).reduce((sum, line) => (accounts.includes(line.account) ? sum + line.amountMinor : sum), 0)

/** A part with a line for every entry of some kinds. Entries that took others back are among them, so the lines add up to what is true now. */
function fromJournal(
  key: string,
  title: string,
  journal: readonly JournalLine[],
  kinds: readonly EntryKind[],
  accounts: readonly BookAccount[],
  sign: 1 | -1,
  words: (entry: JournalLine) => string,
): AccountPart {
  const lines = journal
    .filter(({ kind }) => kinds.includes(kind))
    .map((entry): AccountLine => {
      const minor = sign * sumOn([entry], ...accounts) || 0
      const what = entry.corrects ? `Reversed: ${words({ ...entry, memo: entry.corrects.memo })}` : words(entry)
      return { what, lot: entry.lot, day: entry.valueOn, reference: entry.reference, minor }
    })
    .filter(({ minor }) => minor !== 0)
  return part(key, title, lines)
}

/** Where all the money is: in the bank, or still owed by buyers. */
const where = (journal: readonly JournalLine[]): AccountPart =>
  part('where', 'Where the money is', [
    plain('In the bank', sumOn(journal, 'bank')),
    plain('Owed by buyers', sumOn(journal, 'owed-by-buyers')),
  ])

/** Whose all the money is. The total must be that of the part above; otherwise something is wrong. */
const whose = (journal: readonly JournalLine[]): AccountPart =>
  part('whose', 'Whose money it is', [
    plain('The cause’s, not passed on yet', 0 - sumOn(journal, 'owed-to-cause', 'cost-to-cause')),
    plain('The seller’s, less the costs the seller bears', 0 - sumOn(journal, 'kept-by-seller', 'cost-to-seller')),
    plain('Postage, less the costs of sending', 0 - sumOn(journal, 'postage', 'cost-of-sending')),
    plain('Owed back or unallocated', 0 - sumOn(journal, 'unplaced')),
  ])

const plain = (what: string, minor: Minor): AccountLine => ({ what, lot: null, day: '', reference: '', minor })

const part = (key: string, title: string, lines: AccountLine[]): AccountPart => ({
  key,
  title,
  lines,
  totalMinor: lines.reduce((sum, { minor }) => sum + minor, 0),
})
