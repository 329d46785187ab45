import { csvFile, type SavedFile } from '#kernel/csv'
import { toIso } from '#kernel/instant'
import { plainMoney } from '#kernel/money'
import { listMadeByBank } from '#money/bank/made-by-bank.service'
import { readBooks } from '#money/books/books.service'
import { readPostageAccount } from '#money/sending/postage-account.service'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { readHistory } from '#sale/history/history.service'
import type { LotCard } from '#sale/lots/lots.contract'
import { listLots } from '#sale/lots/lots.service'
import type { Account } from './account.contract'
import { accountParts } from './account.rules'
import { journalHead } from './journal-head.rules'
import { type LotTold, lotNotes, roundingNotes } from './lot-notes.rules'
import { type HammerOfLot, reconcile } from './reconcile.rules'

// The account reads only what the books say to everybody alike, so it does not matter who asks.
const READER: Actor = { personId: '', role: 'maker', name: '', email: '' }

/** The account given to the cause, as the books stand now. */
export function readAccount(sight: Sight): Account {
  const campaign = getCampaign(sight)
  const { statement, ...books } = readBooks(sight, READER)
  const parts = accountParts({ ...books, lots: statement.lots, postage: readPostageAccount(sight), madeByBank: listMadeByBank(sight) })
  const ended = listLots(sight).map((lot) => ({ lot, ...toldByHistory(sight, lot) }))
  const lots = ended.map(({ lot, inHistoryMinor }): HammerOfLot => ({ number: lot.number, hammerMinor: lot.hammerMinor, inHistoryMinor }))
  const entries = new Map(books.journal.map((entry) => [entry.id, entry]))
  const told = statement.lots.map((sold): LotTold => {
    const of = ended.find(({ lot }) => lot.number === sold.number)
    const agreed = entries.get(sold.contractId)?.postings.find(({ account }) => account === 'owed-by-buyers')
    return {
      ...sold,
      agreedMinor: agreed?.amountMinor ?? 0,
      isVoided: of?.isVoided ?? false,
    }
  })
  const { currency } = campaign
  return {
    currency,
    campaign: campaign.name,
    causeName: campaign.causeName,
    causeRegistration: campaign.causeRegistration,
    causeShareBp: told.every(({ shareBp }) => shareBp === campaign.causeShareBp) ? campaign.causeShareBp : null,
    sellerName: campaign.sellerName,
    zone: campaign.zone,
    drawnAt: sight.now,
    head: journalHead(books.journal),
    parts,
    lotNotes: lotNotes(told, currency),
    rounding: roundingNotes(told, currency),
    sums: { ...Object.fromEntries(parts.map(({ key, totalMinor }) => [key, totalMinor])), toRemit: statement.toRemitMinor },
    ...reconcile({ journal: books.journal, lots, parts, statement, currency }),
  }
}

/** The price at which a lot closed, as its signed history says, null where it has no history or nobody won; and whether bids were voided. */
function toldByHistory(sight: Sight, { number, ledgerSize }: LotCard): { inHistoryMinor: number | null; isVoided: boolean } {
  if (ledgerSize === 0) return { inHistoryMinor: null, isVoided: false }
  const { leaves } = readHistory(sight, number)
  const closed = leaves.findLast((leaf) => leaf.kind === 'closed')
  return {
    inHistoryMinor: closed?.kind === 'closed' && closed.result === 'sold' ? closed.hammerMinor : null,
    isVoided: leaves.some((leaf) => leaf.kind === 'voided'),
  }
}

/** Every line and every total of the account as one table; the lines of a part add up to its total. */
export function accountSheet(sight: Sight): SavedFile {
  const { parts, currency, varianceAt, varianceMinor, head, lotNotes: notes, rounding } = readAccount(sight)
  // Written as a number: a text that begins with a minus would be escaped, and then a spreadsheet could not add it up.
  const money = (minor: number) => Number(plainMoney(minor, currency))
  const rows = parts.flatMap(({ title, lines, totalMinor }) => [
    ...lines.map(({ what, lot, day, reference, minor }) => [title, what, lot, day, reference, money(minor), currency]),
    [title, 'total', null, '', '', money(totalMinor), currency],
  ])
  const found = varianceAt.map(({ words, differsMinor }) => ['Variance', words, null, '', '', money(differsMinor), currency])
  const said = [
    ...notes.map(({ lot, words }) => ['Note', words, lot, '', '', null, '']),
    ...rounding.map((words) => ['Rounding', words, null, '', '', null, '']),
  ]
  const tail = [...found, ['Variance', 'total', null, '', '', money(varianceMinor), currency]]
  const drawn = ['Drawn from', `journal of ${head.entries} entries`, null, toIso(sight.now), head.digest, '', '']
  const name = `statement-${toIso(sight.now).slice(0, 10)}.csv`
  return csvFile(name, ['part', 'what', 'lot', 'day', 'reference', 'amount', 'currency'], [...rows, ...tail, ...said, drawn])
}
