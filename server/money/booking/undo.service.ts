import { type Minor, parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { lookAtCampaign } from '#people/campaign/which.service'
import { noteChange } from '#people/changes/changes.service'
import { findPerson } from '#people/people/people.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getLotRow, listLots } from '#sale/lots/lots.service'
import { heldForCause, lotAccounts } from '../journal/covering.rules'
import {
  type EntryRow,
  findCorrectionOf,
  findEntry,
  type JournalRow,
  listLotEntries,
  readJournal,
  readPostings,
} from '../journal/entries.service'
import type { Written } from '../journal/entry.contract'
import { postagePostings, reductionPostings, releasePostings, reversalPostings, reversed } from '../journal/journal.rules'
import { writeEntry, writePrice } from '../journal/journal.service'
import { getStandingSale, hasStandingSale, type LotInBooks } from '../journal/sold.service'
import { typedAmount } from '../journal/typed.service'
import { unplacedSums } from '../journal/unplaced.rules'
import { today } from '../journal/value-day.rules'
import type { CorrectionIn, PostageIn, ReduceIn, ResaleIn, ReverseSaleIn, UndoneSale } from './booking.contract'

/** Takes an entry back by another one. What later entries rest on cannot be pulled from under them. */
export function correctEntry(turn: Turn, actor: Actor, input: CorrectionIn): Written {
  return once(turn, input.key, input, () => {
    const found = findEntry(turn, input.entryId)
    if (!found) throw Refusal.at('entryId', 'There is no such entry. Reload the page.', 'not-found')
    lookAtCampaign(turn, found.campaignNumber)
    if (found.correctsId !== null) throw Refusal.at('entryId', 'That entry is itself a correction. Enter the right one again.', 'conflict')
    if (findCorrectionOf(turn, found.id)) throw Refusal.at('entryId', 'That entry has already been reversed.', 'conflict')
    if (found.kind === 'hammer' || found.kind === 'resale')
      throw Refusal.at(
        'entryId',
        'A price comes from the sale and cannot be reversed here. If the sale fell through, say so on the lot’s page.',
        'conflict',
      )
    const before = readJournal(turn)
    if (isSettledByLater(found, before))
      throw Refusal.at(
        'entryId',
        'The sale of that lot was changed later, and that change depends on this entry: reverse the change first.',
        'conflict',
      )
    const entryId = writeEntry(turn, {
      kind: found.kind,
      postings: reversed(readPostings(turn, found.id)),
      memo: `Reversed: ${found.memo}. ${input.why}`,
      reference: found.reference,
      valueOn: dayNow(turn),
      ...(found.lotId !== null && { lotId: found.lotId, lotNumber: listLots(turn).find(({ id }) => id === found.lotId)?.number ?? 0 }),
      personId: found.personId,
      donorId: found.donorId,
      byPersonId: actor.personId,
      correctsId: found.id,
      placesId: found.placesId,
      promiseId: found.promiseId,
      about: found.about,
      runId: found.runId,
    })
    const after = readJournal(turn)
    const heldAfter = heldForCause(after)
    const isHeldTooLow = heldAfter < 0 && heldAfter < heldForCause(before)
    const isLotTooLow = lotAccounts(after).some(({ owedMinor, receivedMinor, postageMinor, hammerMinor }) =>
      [owedMinor, receivedMinor, postageMinor, hammerMinor].some((minor) => minor < 0),
    )
    if (isHeldTooLow || isLotTooLow || unplacedSums(after).some(({ leftMinor }) => leftMinor < 0)) {
      throw Refusal.at('entryId', 'Later entries depend on that one: reverse those first.', 'conflict')
    }
    return { entryId }
  })
}

/** Says what the postage of a sold lot is; a change is an entry of the difference. What is then paid too much is owed back. */
export function setPostage(turn: Turn, actor: Actor, input: PostageIn): Written {
  return once(turn, input.key, input, () => {
    const sale = getStandingSale(turn, input.lot)
    const difference = parseMoney(input.amount, getCampaign(turn).currency, 'amount') - sale.account.postageMinor
    if (difference === 0) throw Refusal.at('amount', `The postage of lot ${input.lot} is already that amount.`, 'conflict')
    return changePostage(turn, actor, sale, difference, `Postage of lot ${input.lot}`)
  })
}

/** Brings the postage of a sale to what the terms of the lot ask for where it goes. What the treasurer said of it stands. For other rooms, in their own turn. */
export function chargePostage(turn: Turn, actor: Actor, { lot, postageMinor }: { lot: number; postageMinor: Minor }): void {
  const sale = getStandingSale(turn, lot)
  const difference = postageMinor - sale.account.postageMinor
  if (difference !== 0 && !isPostageByHand(turn, sale.lot.id))
    changePostage(turn, actor, sale, difference, `Postage of lot ${lot} to where it goes`)
}

/** Says what the postage of a lot is, where that is not what it is already. For other rooms, in their own turn. */
export function sayPostage(
  turn: Turn,
  actor: Actor,
  { lot, postageMinor, memo }: { lot: number; postageMinor: Minor; memo: string },
): void {
  const sale = getStandingSale(turn, lot)
  const difference = postageMinor - sale.account.postageMinor
  if (difference !== 0) changePostage(turn, actor, sale, difference, memo)
}

/** Somebody of the staff has said or taken back what the postage of a lot is. */
export const isPostageByHand = (sight: Sight, lotId: string): boolean =>
  listLotEntries(sight, lotId).some(
    ({ kind, byPersonId }) => kind === 'postage' && byPersonId !== null && findPerson(sight, byPersonId)?.role !== 'bidder',
  )

function changePostage(turn: Turn, actor: Actor, sale: LotInBooks, difference: Minor, memo: string): Written {
  const entryId = writeEntry(turn, { ...common(turn, actor, sale), kind: 'postage', postings: postagePostings(difference), memo })
  release(turn, actor, sale, 'its postage is less')
  if (actor.role !== 'bidder') notePostage(turn, actor, sale, difference)
  return { entryId }
}

function notePostage(turn: Turn, actor: Actor, { lot, account }: LotInBooks, difference: Minor): void {
  const { currency } = getCampaign(turn)
  const [before, after] = [account.postageMinor, account.postageMinor + difference].map((minor) => showMoney(minor, currency))
  noteChange(turn, actor, { kind: 'postage', what: `the postage of lot ${lot.number}`, before: before ?? '', after: after ?? '' })
}

/** A part of the price is let go, say for what broke on the way. What is then paid too much is owed back. */
export const reducePrice = (turn: Turn, actor: Actor, input: ReduceIn): UndoneSale =>
  once(turn, input.key, input, () => letGo(turn, actor, { lot: input.lot, amountMinor: typedAmount(turn, input.amount), why: input.why }))

/** The same for other rooms, in their own turn. Refuses at `amount`. */
export function letGo(turn: Turn, actor: Actor, { lot, amountMinor, why }: { lot: number; amountMinor: Minor; why: string }): UndoneSale {
  const sale = getStandingSale(turn, lot)
  const { hammerMinor } = sale.account
  if (amountMinor >= hammerMinor) {
    const price = showMoney(hammerMinor, getCampaign(turn).currency)
    throw Refusal.at('amount', `The price is ${price}. Reduce it by less than that, or say that the whole sale fell through.`)
  }
  const entryId = writeEntry(turn, {
    ...common(turn, actor, sale),
    kind: 'reduction',
    postings: reductionPostings(amountMinor, sale.account),
    memo: `The price of lot ${lot} is less: ${why}`,
  })
  return { entryId, ...release(turn, actor, sale, 'its price is less') }
}

/** The sale falls through, unpaid or paid: the lot counts no more, and what was paid is owed back to the buyer. */
export function reverseSale(turn: Turn, actor: Actor, input: ReverseSaleIn): UndoneSale {
  return once(turn, input.key, input, () => {
    const sale = getStandingSale(turn, input.lot)
    const entryId = writeEntry(turn, {
      ...common(turn, actor, sale),
      kind: 'reversal',
      postings: reversalPostings(sale.account),
      memo: `The sale of lot ${input.lot} fell through: ${input.why}`,
    })
    return { entryId, ...release(turn, actor, sale, 'the sale fell through') }
  })
}

/** A contract that no hammer made, at its own price, for a lot of which no sale stands. For other rooms, in their own turn. */
export function recordResale(turn: Turn, actor: Actor, input: ResaleIn): Written {
  const lot = getLotRow(turn, input.lot)
  if (hasStandingSale(turn, lot.id))
    throw Refusal.at(
      'lot',
      `The sale of lot ${input.lot} stands. It has to fall through before it can be sold to somebody else.`,
      'conflict',
    )
  const sale = {
    lotId: lot.id,
    lotNumber: lot.number,
    hammerMinor: input.priceMinor,
    postageMinor: input.postageMinor,
    winnerPersonId: input.personId,
  }
  const memo = `Price of lot ${lot.number} ${input.by === 'fixed price' ? 'at a fixed price' : 'by a new contract'}`
  return { entryId: writePrice(turn, sale, { kind: 'resale', memo, byPersonId: actor.personId }) }
}

/** The price and the postage before a sale fell through are what was undone with it, and a new contract rests on that. */
function isSettledByLater(found: EntryRow, journal: readonly JournalRow[]): boolean {
  if (!['reversal', 'reduction', 'postage'].includes(found.kind)) return false
  const takenBack = new Set(journal.map(({ correctsId }) => correctsId))
  return journal.some(
    ({ id, seq, lotId, kind, correctsId }) =>
      lotId === found.lotId && seq > found.seq && (kind === 'resale' || (kind === 'reversal' && correctsId === null && !takenBack.has(id))),
  )
}

/** What a lot holds beyond what is owed for it goes to the money without a home, under its buyer's name. */
function release(turn: Turn, actor: Actor, sale: LotInBooks, why: string): Omit<UndoneSale, 'entryId'> {
  const journal = readJournal(turn)
  const owedBackMinor = Math.max(0, 0 - (lotAccounts(journal).find(({ lotId }) => lotId === sale.lot.id)?.owedMinor ?? 0))
  if (owedBackMinor > 0) {
    writeEntry(turn, {
      ...common(turn, actor, sale),
      kind: 'release',
      postings: releasePostings(owedBackMinor),
      memo: `Owed back for lot ${sale.lot.number}: ${why}`,
    })
  }
  return { owedBackMinor, sentOnTooMuchMinor: sentOnTooMuch(turn) }
}

/** More was sent on to the cause than there is for it now: it comes off the next remittance, or the cause gives it back. */
export const sentOnTooMuch = (sight: Sight): Minor => Math.max(0, 0 - heldForCause(readJournal(sight)))

const common = (turn: Turn, actor: Actor, { lot, buyerPersonId }: LotInBooks) => ({
  lotId: lot.id,
  lotNumber: lot.number,
  personId: buyerPersonId,
  byPersonId: actor.personId,
  valueOn: dayNow(turn),
})

const dayNow = (turn: Turn): string => today(turn.now, getCampaign(turn).zone)
