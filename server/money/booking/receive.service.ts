import { type Minor, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getDonor } from '#stock/donors/donor.service'
import { type EntryRow, findEntry, readJournal } from '../journal/entries.service'
import type { Written } from '../journal/entry.contract'
import { giftPostings, paymentPostings, placingPostings, refundPostings, unplacedPostings } from '../journal/journal.rules'
import { writeEntry } from '../journal/journal.service'
import { getSoldLot, getStandingSale } from '../journal/sold.service'
import { type OnPaper, onPaper, typedAmount, typedDay } from '../journal/typed.service'
import { unplacedSums } from '../journal/unplaced.rules'
import type { MoneyGiftIn, PaymentIn, PlaceIn, RefundIn, UnplacedIn } from './booking.contract'

export interface Receipt extends OnPaper {
  lot: number
  /** What to do with more than is owed: refuse it, or keep it in sight as money without a home. */
  over: 'refuse' | 'keep'
}

/** Money came in for a lot; for other rooms, inside their own turn. Refuses at `lot` and `amount`. */
export function takePayment(turn: Turn, receipt: Receipt): Written {
  const { currency } = getCampaign(turn)
  const { lot, account, buyerPersonId } = getStandingSale(turn, receipt.lot)
  const overMinor = Math.max(0, receipt.amountMinor - account.owedMinor)
  if (overMinor > 0 && receipt.over === 'refuse') {
    if (account.owedMinor === 0) throw Refusal.at('lot', `Lot ${lot.number} is paid in full. Choose another lot.`, 'conflict')
    throw Refusal.at(
      'amount',
      `Lot ${lot.number} has ${showMoney(account.owedMinor, currency)} to pay, so this is ${showMoney(overMinor, currency)} too much. Check the amount, or choose to hold the rest as unallocated until the buyer has said what it is for.`,
    )
  }
  // All of it too much: nothing of it is a payment of this lot.
  if (overMinor === receipt.amountMinor) {
    const memo = `Paid twice for lot ${lot.number}: not allocated yet`
    return takeUnplaced(turn, { ...receipt, memo, personId: buyerPersonId })
  }
  const entryId = writeEntry(turn, {
    kind: 'payment',
    postings: paymentPostings(receipt.amountMinor, overMinor),
    memo: `Payment for lot ${lot.number}${overMinor > 0 ? `, and ${showMoney(overMinor, currency)} more than was owed` : ''}`,
    reference: receipt.reference,
    valueOn: receipt.valueOn,
    lotId: lot.id,
    lotNumber: lot.number,
    personId: buyerPersonId,
    byPersonId: receipt.byPersonId,
  })
  return { entryId }
}

export interface WithoutHome extends OnPaper {
  memo: string
  personId?: string | null
}

/** Money came and nobody can say yet what it is for: it stays in sight until it has a home. */
export const takeUnplaced = (turn: Turn, { amountMinor, memo, reference, valueOn, byPersonId, personId = null }: WithoutHome): Written => ({
  entryId: writeEntry(turn, {
    kind: 'unplaced',
    postings: unplacedPostings(amountMinor),
    memo,
    reference,
    valueOn,
    personId,
    byPersonId,
  }),
})

export const recordPayment = (turn: Turn, actor: Actor, input: PaymentIn): Written =>
  once(turn, input.key, input, () => takePayment(turn, { ...onPaper(turn, actor, input), lot: input.lot, over: input.over ?? 'refuse' }))

export const recordUnplaced = (turn: Turn, actor: Actor, input: UnplacedIn): Written =>
  once(turn, input.key, input, () =>
    takeUnplaced(turn, { ...onPaper(turn, actor, input), memo: `Came from ${input.from}: not allocated yet` }),
  )

/** Money without a home finds one: a lot, or the cause as a gift, for which the payer's own word is asked. */
export function placeUnplaced(turn: Turn, actor: Actor, input: PlaceIn): Written {
  return once(turn, input.key, input, () => {
    const { currency } = getCampaign(turn)
    const amountMinor = typedAmount(turn, input.amount)
    const origin = getUnplaced(turn, input.entryId, amountMinor)
    const common = { placesId: origin.id, reference: origin.reference, valueOn: typedDay(turn, input.on), byPersonId: actor.personId }
    if (input.to === 'gift') {
      if (input.word.trim().length < 3)
        throw Refusal.at('word', 'Write what the payer said. Money only becomes a gift when the payer says so.')
      const postings = placingPostings(amountMinor, 'owed-to-cause')
      return { entryId: writeEntry(turn, { ...common, kind: 'gift', postings, memo: `Kept as a gift. The payer: ${input.word}` }) }
    }
    const { lot, account, buyerPersonId } = getStandingSale(turn, input.lot)
    if (amountMinor > account.owedMinor)
      throw Refusal.at(
        'amount',
        `Lot ${lot.number} has ${showMoney(account.owedMinor, currency)} to pay. Allocate no more than that to it.`,
      )
    const entryId = writeEntry(turn, {
      ...common,
      kind: 'payment',
      postings: placingPostings(amountMinor, 'owed-by-buyers'),
      memo: `Allocated to lot ${lot.number}`,
      lotId: lot.id,
      lotNumber: lot.number,
      personId: buyerPersonId,
    })
    return { entryId }
  })
}

/** Money went back: of what has no home, or of what was paid for a lot whose buyer then owes it again. Never more than came in. */
export const recordRefund = (turn: Turn, actor: Actor, input: RefundIn): Written =>
  once(turn, input.key, input, () => {
    const paper = { ...onPaper(turn, actor, input), why: input.why }
    return input.of === 'unplaced'
      ? giveBackUnplaced(turn, { ...paper, entryId: input.entryId })
      : giveBackPaid(turn, { ...paper, lot: input.lot })
  })

/** For other rooms too, inside their own turn. Refuses at `entryId` and `amount`. */
export function giveBackUnplaced(turn: Turn, { amountMinor, entryId, why, ...paper }: OnPaper & { entryId: string; why: string }): Written {
  const origin = getUnplaced(turn, entryId, amountMinor)
  const { id: placesId, personId } = origin
  const postings = placingPostings(amountMinor, 'bank')
  return { entryId: writeEntry(turn, { ...paper, kind: 'refund', postings, memo: `Refunded: ${why}`, placesId, personId }) }
}

/** For other rooms too, inside their own turn. Refuses at `amount`. */
export function giveBackPaid(turn: Turn, { amountMinor, lot: number, why, ...paper }: OnPaper & { lot: number; why: string }): Written {
  const { lot, account, buyerPersonId } = getSoldLot(turn, number)
  if (amountMinor > account.receivedMinor) {
    const came = showMoney(account.receivedMinor, getCampaign(turn).currency)
    throw Refusal.at('amount', `Only ${came} stands as paid for lot ${lot.number}, so no more than that can be refunded.`)
  }
  const entryId = writeEntry(turn, {
    ...paper,
    kind: 'refund',
    postings: refundPostings(amountMinor),
    memo: `Refunded, so lot ${lot.number} has it to pay again: ${why}`,
    lotId: lot.id,
    lotNumber: lot.number,
    personId: buyerPersonId,
  })
  return { entryId }
}

export const recordMoneyGift = (turn: Turn, actor: Actor, input: MoneyGiftIn): Written =>
  once(turn, input.key, input, () => takeMoneyGift(turn, { ...onPaper(turn, actor, input), from: input.from, donorId: input.donorId }))

/** A gift of money: it goes to the cause whole and buys nothing. For other rooms too, inside their own turn. */
export function takeMoneyGift(turn: Turn, { amountMinor, from, donorId, ...paper }: OnPaper & { from: string; donorId?: string }): Written {
  if (donorId) getDonor(turn, donorId)
  const postings = giftPostings(amountMinor)
  const entryId = writeEntry(turn, { ...paper, kind: 'gift', postings, memo: `Gift of money from ${from}`, donorId: donorId ?? null })
  return { entryId }
}

function getUnplaced(sight: Sight, entryId: string, amountMinor: Minor): EntryRow {
  const origin = findEntry(sight, entryId)
  const sum = unplacedSums(readJournal(sight)).find((each) => each.entryId === entryId)
  if (!origin || !sum || sum.leftMinor <= 0)
    throw Refusal.at('entryId', 'That money has already been allocated. Reload the page.', 'conflict')
  if (amountMinor > sum.leftMinor) {
    const left = showMoney(sum.leftMinor, getCampaign(sight).currency)
    throw Refusal.at('amount', `Only ${left} of it is left, so no more than that can be allocated or refunded.`)
  }
  return origin
}
