import { parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import type { Books } from '../books/books.contract'
import { readWholeJournal } from '../books/books.service'
import { valueDay } from '../journal/value-day.rules'
import type { BalancesIn, ReconciledView } from './bank.contract'
import * as store from './bank.store'
import type { StatedBalances } from './camt-file.rules'
import { reconcile } from './reconcile.rules'

/** What the bank says was on the account, kept as it was read. */
export function keepStatement(turn: Turn, actor: Actor, balances: StatedBalances, file: string): void {
  store.insertStatement(turn.db, { id: turn.dice.id(), ...balances, file, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'bank.balances-kept', subject: 'money', body: { closesOn: balances.closesOn } })
}

/** The same, entered from the bank's paper. */
export function keepBalances(turn: Turn, actor: Actor, input: BalancesIn): { closesOn: string } {
  return once(turn, input.key, input, () => {
    const { currency, zone } = getCampaign(turn)
    for (const field of ['opensOn', 'closesOn'] as const) {
      try {
        valueDay(input[field], turn.now, zone)
      } catch (reason) {
        throw reason instanceof Refusal ? Refusal.at(field, reason.message) : reason
      }
    }
    const signed = (field: 'opening' | 'closing') => {
      const typed = input[field].normalize('NFKC').replaceAll('−', '-').trim()
      const minor = parseMoney(typed.replace(/^-/, ''), currency, field)
      return typed.startsWith('-') ? -minor || 0 : minor
    }
    const { account, opensOn, closesOn } = input
    keepStatement(turn, actor, { account, opensOn, closesOn, openingMinor: signed('opening'), closingMinor: signed('closing') }, '')
    return { closesOn }
  })
}

const bankOf = ({ postings }: Books['journal'][number]): number =>
  postings.reduce((sum, { account, amountMinor }) => (account === 'bank' ? sum + amountMinor : sum), 0)

/** The books against each statement of the bank. */
export function readReconciled(sight: Sight): ReconciledView[] {
  // The bank has one account and knows of no campaigns.
  const journal = readWholeJournal(sight)
  const entries = new Map(journal.map((entry) => [entry.id, entry]))
  const onLines = new Map<string, string[]>()
  for (const { lineId, entryId } of store.listMatches(sight.db)) onLines.set(lineId, [...(onLines.get(lineId) ?? []), entryId])
  const matched = new Set([...onLines.values()].flat())
  const rows = store.listAll(sight.db).filter(({ currency }) => currency === '')
  const rowById = new Map(rows.map((row) => [row.id, row]))
  const standing = (id: string) => {
    const entry = entries.get(id)
    return entry && !entry.correctedBy ? bankOf(entry) : 0
  }
  const lines = rows.map(({ id, bookedOn, valueOn, amountMinor, state }) => ({
    id,
    bookedOn: bookedOn || valueOn,
    amountMinor,
    state,
    bookedMinor: (onLines.get(id) ?? []).reduce((sum, entryId) => sum + standing(entryId), 0),
  }))
  const ofBank = journal
    .filter((entry) => bankOf(entry) !== 0)
    .map((entry) => {
      const other = entry.corrects?.id ?? entry.correctedBy?.id
      return {
        entryId: entry.id,
        valueOn: entry.valueOn,
        amountMinor: bankOf(entry),
        isOnLine: matched.has(entry.id),
        isUndone: other !== undefined,
      }
    })
  return store.listStatements(sight.db).map(({ id: _id, at: _at, byPersonId: _by, file, ...balances }): ReconciledView => {
    const found = reconcile(balances, lines, ofBank)
    return {
      ...found,
      file,
      linesWithoutEntry: found.linesWithoutEntry.flatMap((id) => {
        const row = rowById.get(id)
        const words = [row?.name, row?.words, row?.reference].filter(Boolean).join(' · ')
        return row ? [{ id, on: row.bookedOn || row.valueOn, amountMinor: row.amountMinor, words }] : []
      }),
      entriesWithoutLine: found.entriesWithoutLine.flatMap((entryId) => {
        const entry = entries.get(entryId)
        return entry ? [{ entryId, on: entry.valueOn, amountMinor: bankOf(entry), memo: entry.memo }] : []
      }),
    }
  })
}
