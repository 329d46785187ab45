import { type Currency, type Minor, showMoney } from '#kernel/money'
import type { JournalLine, Statement } from '#money/books/books.contract'
import type { AccountPart, Variance } from './account.contract'

export interface HammerOfLot {
  number: number
  /** As the lot itself says; null where it was not sold. `inHistoryMinor` is what its signed history says, null where it has none. */
  hammerMinor: Minor | null
  inHistoryMinor: Minor | null
}

/**
 * Every place at which the account does not come out, each with its sentence. Nothing is assumed to be right: the
 * lines of each entry are added up, entries that take others back are compared with those, lots with their signed histories, and each
 * part of the account with the books.
 */
export function reconcile(facts: {
  journal: readonly JournalLine[]
  lots: readonly HammerOfLot[]
  parts: readonly AccountPart[]
  statement: Omit<Statement, 'lots'>
  currency: Currency
}): { varianceMinor: Minor; varianceAt: Variance[] } {
  const show = (minor: Minor) => showMoney(minor, facts.currency)
  const found = [
    ...unbalanced(facts.journal, show),
    ...takenBackWrongly(facts.journal, show),
    ...otherThanHistory(facts.lots, show),
    ...otherThanBooks(facts.parts, facts.statement, show),
  ]
  // The books tell their own variances as sentences with a single sum, which is put beside the first of them.
  const own = facts.statement.varianceAt.map((words, index) => ({ differsMinor: index === 0 ? facts.statement.varianceMinor : 0, words }))
  const varianceAt = [...found, ...own]
  return { varianceMinor: varianceAt.reduce((sum, { differsMinor }) => sum + Math.abs(differsMinor), 0), varianceAt }
}

type Show = (minor: Minor) => string

const entryWords = (index: number, { valueOn, memo }: JournalLine): string => `Entry ${index + 1} of ${valueOn}, “${memo}”`

const unbalanced = (journal: readonly JournalLine[], show: Show): Variance[] =>
  journal.flatMap((entry, index) => {
    const sum = entry.postings.reduce((all, { amountMinor }) => all + amountMinor, 0)
    return sum === 0 ? [] : [{ differsMinor: sum, words: `${entryWords(index, entry)}: its lines do not balance, by ${show(sum)}.` }]
  })

/** An entry that takes another one back must have the same lines with their signs turned. */
function takenBackWrongly(journal: readonly JournalLine[], show: Show): Variance[] {
  const byId = new Map(journal.map((entry) => [entry.id, entry]))
  return journal.flatMap((entry, index) => {
    const taken = entry.corrects && byId.get(entry.corrects.id)
    if (!taken) return []
    const left = new Map<string, Minor>()
    for (const { account, amountMinor } of [...entry.postings, ...taken.postings]) left.set(account, (left.get(account) ?? 0) + amountMinor)
    const differs = Math.max(0, ...[...left.values()].map(Math.abs))
    return differs === 0
      ? []
      : [{ differsMinor: differs, words: `${entryWords(index, entry)} does not undo what it takes back: ${show(differs)} is left.` }]
  })
}

const otherThanHistory = (lots: readonly HammerOfLot[], show: Show): Variance[] =>
  lots.flatMap(({ number, hammerMinor, inHistoryMinor }) => {
    if (inHistoryMinor === null || hammerMinor === inHistoryMinor) return []
    const words = `Lot ${number}: its signed history closed at ${show(inHistoryMinor)}, the lot has ${hammerMinor === null ? 'no price' : show(hammerMinor)}.`
    return [{ differsMinor: (hammerMinor ?? 0) - inHistoryMinor, words }]
  })

/** Each sum that the books tell is found once more by adding up the lines of its part. */
function otherThanBooks(parts: readonly AccountPart[], statement: Omit<Statement, 'lots'>, show: Show): Variance[] {
  const { costs } = statement
  const said: Record<string, Minor> = {
    hammer: statement.hammerMinor,
    share: statement.causeShareMinor,
    postage: statement.postageMinor,
    unpaid: statement.unpaidMinor,
    gifts: statement.giftMinor,
    matched: statement.matchedMinor,
    'matched-due': statement.matchedDueMinor,
    costs: costs.cause + costs.seller + costs.postage,
    sending: statement.sendingCostMinor,
    refunds: statement.refundedMinor,
    unplaced: statement.unplacedMinor,
    remitted: statement.remittedMinor,
  }
  const total = (key: string): Minor => parts.find((part) => part.key === key)?.totalMinor ?? 0
  const differing = parts.flatMap(({ key, title, totalMinor }) => {
    const books = said[key]
    if (books === undefined || books === totalMinor) return []
    return [
      { differsMinor: totalMinor - books, words: `${title}: the lines add up to ${show(totalMinor)}, the books have ${show(books)}.` },
    ]
  })
  const [where, whose] = [total('where'), total('whose')]
  if (where !== whose)
    differing.push({
      differsMinor: where - whose,
      words: `There is ${show(where)} in the bank and owed by buyers, and it belongs to somebody for ${show(whose)}.`,
    })
  return differing
}
