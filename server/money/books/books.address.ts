import { csvFile } from '#kernel/csv'
import { toIso } from '#kernel/instant'
import { CURRENCIES, plainMoney } from '#kernel/money'
import { findCampaign } from '#people/campaign/campaign.service'
import { type Address, type Answer, bytes, json } from '#runtime/call/address'
import type { Actor, Sight } from '#runtime/queue/turn'
import { ACCOUNTS, type Account } from '../journal/journal.rules'
import { readBooks } from './books.service'
import { JOURNAL_SCHEMA, type JournalFile, journalSchema } from './journal-file.contract'
import { ACCOUNT_WORDS, accountNamed, ledgerOf } from './ledger.rules'

const readers = ['maker', 'treasurer'] as const

export const booksAddresses: Address[] = [
  { path: JOURNAL_SCHEMA, answer: () => json(journalSchema()) },
  {
    path: '/bench/money/journal.json',
    audience: readers,
    answer: (sight, _params, _query, actor) => (actor && findCampaign(sight) ? saved(journalOf(sight, actor)) : null),
  },
  {
    path: '/bench/money/ledger/:account.csv',
    audience: readers,
    answer(sight, { account = '' }, _query, actor) {
      const found = accountNamed(account)
      return found && actor && findCampaign(sight) ? ledger(sight, actor, found) : null
    },
  },
]

const saved = (file: JournalFile): Answer => bytes('application/json; charset=utf-8', `${JSON.stringify(file, null, 1)}\n`, 'journal.json')

function journalOf(sight: Sight, actor: Actor): JournalFile {
  const { journal, statement } = readBooks(sight, actor)
  const balances = Object.fromEntries(ACCOUNTS.map((account) => [account, ledgerOf(journal, account).at(-1)?.balanceMinor ?? 0]))
  return {
    $schema: JOURNAL_SCHEMA,
    drawnAt: toIso(sight.now),
    currency: statement.currency,
    decimals: CURRENCIES[statement.currency].exponent,
    balances: balances as JournalFile['balances'],
    entries: journal.map(({ id, at, valueOn, kind, memo, reference, lot, corrects, postings }) => ({
      id,
      at: toIso(at),
      day: valueOn,
      kind,
      memo,
      reference,
      lot,
      corrects: corrects?.id ?? null,
      lines: postings.map(({ account, amountMinor }) => ({ account, amountMinor })),
    })),
  }
}

function ledger(sight: Sight, actor: Actor, account: Account): Answer {
  const { journal, statement } = readBooks(sight, actor)
  // Written as a number: a text that begins with a minus would be escaped, and then a spreadsheet could not add it up.
  const money = (minor: number) => Number(plainMoney(minor, statement.currency))
  const rows = ledgerOf(journal, account).map(({ entry, amountMinor, balanceMinor }) => {
    const { valueOn, memo, reference, lot, by } = entry
    return [valueOn, memo, reference, lot, by ?? 'the house', money(amountMinor), money(balanceMinor), statement.currency]
  })
  const head = ['day', ACCOUNT_WORDS[account], 'reference', 'lot', 'by', 'amount', 'balance', 'currency']
  const { type, text, fileName } = csvFile(`${account}.csv`, head, rows)
  return bytes(type, text, fileName)
}
