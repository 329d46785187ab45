import { parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { giveBackUnplaced, takeMoneyGift, takePayment, takeUnplaced } from '../booking/receive.service'
import { bookCost, bookFee, bookRemittance } from '../booking/spend.service'
import { correctEntry } from '../booking/undo.service'
import type { Books } from '../books/books.contract'
import { readBooks, readWholeJournal } from '../books/books.service'
import { typedDay } from '../journal/typed.service'
import { readReconciled } from './balances.service'
import type { BankDesk, BankLineView, ConfirmIn, PlacedPart, PlaceLineIn, ReopenIn, SetAsideIn } from './bank.contract'
import * as store from './bank.store'
import { readLayouts } from './layouts.service'
import { getOpenLine } from './open-line.service'
import { referencesKnown } from './references-known.service'
import { type BooksKnown, suggest } from './suggest.rules'

const MOST_SETTLED = 200

/** Lines that wait with what they probably are, and what became of the others. */
export function readBank(sight: Sight, actor: Actor): BankDesk {
  const books = readBooks(sight, actor)
  const { zone } = getCampaign(sight)
  const { currency } = books.meter
  const known = booksKnown(sight, books)
  const journal = new Map(readWholeJournal(sight).map((one) => [one.id, one]))
  const view = (row: store.LineRow): BankLineView => ({
    id: row.id,
    on: row.bookedOn || row.valueOn,
    valueOn: row.bookedOn !== '' && row.bookedOn !== row.valueOn ? row.valueOn : null,
    currency: row.currency || null,
    amountMinor: row.amountMinor,
    words: row.words,
    name: row.name,
    reference: row.reference,
    file: row.file,
    line: row.line,
    state: row.state,
    why: row.why,
    settledAt: row.settledAt,
    settledBy: row.settledByPersonId === null ? null : (findPerson(sight, row.settledByPersonId)?.name ?? null),
    suggestion: row.state === 'open' ? suggest(seen(row), known) : null,
    became: store.matchesOf(sight.db, row.id).flatMap(({ entryId }) => {
      const entry = journal.get(entryId)
      return entry ? [{ memo: entry.memo, lot: entry.lot, amountMinor: bankOf(entry), isTakenBack: entry.correctedBy !== null }] : []
    }),
  })
  return {
    currency,
    zone,
    open: store.listOpen(sight.db).map(view),
    settled: store.listSettled(sight.db, MOST_SETTLED).map(view),
    reconciled: readReconciled(sight),
    layouts: readLayouts(sight),
    lots: books.statement.lots.map(({ number, title, buyer, owedMinor }) => ({ lot: number, title, buyer, owedMinor })),
    owing: books.unplaced.map(({ entryId, memo, leftMinor }) => ({ entryId, memo, leftMinor })),
    mayWrite: books.mayWrite,
  }
}

const seen = ({ valueOn, amountMinor, words, name, reference }: store.LineRow) => ({ on: valueOn, amountMinor, words, name, reference })

const bankOf = ({ postings }: Books['journal'][number]): number =>
  postings.reduce((sum, { account, amountMinor }) => (account === 'bank' ? sum + amountMinor : sum), 0)

function booksKnown(sight: Sight, books: Books): BooksKnown {
  const matched = new Set(store.listMatches(sight.db).map(({ entryId }) => entryId))
  return {
    references: referencesKnown(sight),
    lots: books.statement.lots.map(({ number, owedMinor, buyer, buyerPersonId, paddle }) => ({
      lot: number,
      owedMinor,
      buyer,
      buyerPersonId,
      paddle,
    })),
    entries: books.journal.flatMap((entry) => {
      const amountMinor = bankOf(entry)
      if (amountMinor === 0 || matched.has(entry.id) || entry.corrects || entry.correctedBy) return []
      return [{ entryId: entry.id, kind: entry.kind, amountMinor, valueOn: entry.valueOn, memo: entry.memo, lot: entry.lot }]
    }),
    owing: books.unplaced.map(({ entryId, memo, payer, leftMinor }) => ({ entryId, memo, payer, leftMinor })),
    causeName: books.meter.causeName,
    heldMinor: books.statement.toRemitMinor,
    show: (amount) => showMoney(amount, books.meter.currency),
  }
}

/** Whether a line is money that left the account: what it is booked as may be a remittance, or somebody paid back. */
export const hasGoneOut = (sight: Sight, lineId: string): boolean => (store.findLine(sight.db, lineId)?.amountMinor ?? 0) < 0

/** A person confirms what was suggested for a line, as it stands now: what was read a while ago may have been paid since. */
export function confirmLine(turn: Turn, actor: Actor, input: ConfirmIn): { entries: number } {
  return once(turn, input.key, input, () => {
    const row = getOpenLine(turn, input.lineId)
    const suggestion = suggest(seen(row), booksKnown(turn, readBooks(turn, actor)))
    if (!suggestion) throw new Refusal('conflict', 'There is no longer a suggestion for this line. Choose where it goes yourself.')
    const parts = suggestion.parts.map((part) => ({ ...part, amountMinor: Math.abs(part.amountMinor) }))
    return place(turn, actor, row, parts)
  })
}

/** A person says where a line goes, in parts if need be: all of it, or nothing is booked. */
export const placeLine = (turn: Turn, actor: Actor, input: PlaceLineIn): { entries: number } =>
  once(turn, input.key, input, () => {
    const row = getOpenLine(turn, input.lineId)
    const { currency } = getCampaign(turn)
    const parts = input.parts.map(({ amount, ...part }, index) => {
      const amountMinor = parseMoney(amount, currency, `parts.${index}.amount`)
      if (amountMinor === 0) throw Refusal.at(`parts.${index}.amount`, 'Write an amount above zero.')
      return { ...part, amountMinor }
    })
    return place(turn, actor, row, parts)
  })

function place(turn: Turn, actor: Actor, row: store.LineRow, parts: readonly PlacedPart[]): { entries: number } {
  const { currency } = getCampaign(turn)
  const sum = parts.reduce((all, { amountMinor }) => all + amountMinor, 0)
  if (sum !== Math.abs(row.amountMinor)) {
    const [said, whole] = [showMoney(sum, currency), showMoney(Math.abs(row.amountMinor), currency)]
    throw Refusal.at('parts.0.amount', `The parts come to ${said}, the line is ${whole}. Allocate all of it.`)
  }
  for (const [index, part] of parts.entries()) {
    const isIn = part.to === 'lot' || part.to === 'unplaced' || part.to === 'gift'
    const isOut = part.to === 'remittance' || part.to === 'refund' || part.to === 'cost' || part.to === 'fee'
    if ((isIn && row.amountMinor < 0) || (isOut && row.amountMinor > 0))
      throw Refusal.at(
        `parts.${index}.to`,
        row.amountMinor < 0 ? 'This money went out. Choose what it went for.' : 'This money came in. Choose what it came for.',
      )
    const { entryId, isMade } = book(turn, actor, row, part, index)
    store.insertMatch(turn.db, { entryId, lineId: row.id, isMade })
  }
  store.updateLine(turn.db, row.id, { state: 'placed', why: '', settledAt: turn.now, settledByPersonId: actor.personId })
  turn.record({ kind: 'bank.placed', subject: 'money', body: { line: row.seq, parts: parts.length } })
  return { entries: parts.length }
}

function book(turn: Turn, actor: Actor, row: store.LineRow, part: PlacedPart, index: number): { entryId: string; isMade: boolean } {
  const { amountMinor } = part
  const reference = (row.reference || row.words).slice(0, 80)
  const paper = { amountMinor, reference, valueOn: row.valueOn, byPersonId: actor.personId }
  const dated = () => ({ ...paper, valueOn: typedDay(turn, row.valueOn) })
  const made = ({ entryId }: { entryId: string }) => ({ entryId, isMade: true })
  switch (part.to) {
    case 'entry':
      return { entryId: knownEntry(turn, actor, row, part.entryId, amountMinor, index), isMade: false }
    case 'lot':
      return made(takePayment(turn, { ...paper, lot: part.lot, over: 'refuse' }))
    case 'unplaced':
      return made(
        takeUnplaced(turn, {
          ...paper,
          memo:
            'of' in part && part.of
              ? `Came from ${part.of.buyer} for lot ${part.of.lot}, whose sale to them fell through: owed back`
              : `Came from ${row.name || 'nobody named'}: not allocated yet`,
          personId: 'of' in part ? (part.of?.personId ?? null) : null,
        }),
      )
    case 'gift':
      return made(takeMoneyGift(turn, { ...dated(), from: part.from }))
    case 'remittance':
      return made(bookRemittance(turn, dated()))
    case 'refund':
      return made(giveBackUnplaced(turn, { ...dated(), entryId: part.entryId, why: 'as the bank’s line says' }))
    case 'cost':
      return made(bookCost(turn, { ...dated(), what: part.what, about: part.about, bearer: part.bearer, paidFrom: 'bank', lot: part.lot }))
    case 'fee':
      return made(bookFee(turn, { ...dated(), to: part.what, bearer: part.bearer }))
  }
}

/** An entry that was written by hand is found on the bank's paper; each is found once, and at its own amount. */
function knownEntry(turn: Turn, actor: Actor, row: store.LineRow, entryId: string, amountMinor: number, index: number): string {
  const entry = booksKnown(turn, readBooks(turn, actor)).entries.find((one) => one.entryId === entryId)
  if (!entry) throw Refusal.at(`parts.${index}.entryId`, 'That entry already belongs to another line, or was reversed.', 'conflict')
  if (entry.amountMinor !== amountMinor * Math.sign(row.amountMinor))
    throw Refusal.at(`parts.${index}.amount`, 'That entry is for a different amount.')
  return entryId
}

/** It is none of the campaign's: it leaves the list with a reason, and can come back. */
export function setAside(turn: Turn, actor: Actor, { lineId, why }: SetAsideIn): void {
  const row = getOpenLine(turn, lineId)
  store.updateLine(turn.db, row.id, { state: 'set aside', why, settledAt: turn.now, settledByPersonId: actor.personId })
  turn.record({ kind: 'bank.set-aside', subject: 'money', body: { line: row.seq } })
}

/** What was booked because of a line is taken back by further entries, and the line waits again. */
export function reopenLine(turn: Turn, actor: Actor, input: ReopenIn): { takenBack: number } {
  return once(turn, input.key, input, () => {
    const row = store.findLine(turn.db, input.lineId)
    if (!row || row.state === 'open') throw new Refusal('conflict', 'That line is already open.')
    if (row.currency !== '')
      throw new Refusal('conflict', `That line is in ${row.currency}, and amounts are not converted here: it stays set aside.`)
    const journal = new Map(readWholeJournal(turn).map((entry) => [entry.id, entry]))
    const made = store.matchesOf(turn.db, row.id).filter(({ entryId, isMade }) => isMade && !journal.get(entryId)?.correctedBy)
    for (const [index, { entryId }] of made.toReversed().entries())
      correctEntry(turn, actor, { key: `${input.key}-${index}`, entryId, why: input.why })
    store.deleteMatches(turn.db, row.id)
    store.updateLine(turn.db, row.id, { state: 'open', why: '', settledAt: null, settledByPersonId: null })
    turn.record({ kind: 'bank.reopened', subject: 'money', body: { line: row.seq } })
    return { takenBack: made.length }
  })
}
