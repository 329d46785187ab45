import { getCampaign } from '../campaign/campaign.service'
import { getDonor } from '../donors/donor.service'
import { parseMoney, showMoney } from '../kernel/money'
import { Refusal } from '../kernel/refusal'
import { listLots } from '../lots/lots.service'
import { findPaddle, findPerson } from '../people/people.service'
import { type Actor, once, type Sight, type Turn } from '../runtime/turn'
import { lotReference } from './creditor-reference.rules'
import { giftPostings, paymentPostings, postagePostings, remittancePostings, reversed } from './journal.rules'
import { writeEntry } from './journal.service'
import type { Books, CorrectionIn, JournalLine, MoneyGiftIn, PaymentIn, PostageIn, RemittanceIn, SoldLot } from './money.contract'
import * as store from './money.store'
import { heldForCause, type LotAccount, lotAccounts, lotMoneyState } from './proceeds.rules'
import { proceeds } from './proceeds.service'
import { findVariance, sumStatement } from './statement.rules'
import { today, valueDay } from './value-day.rules'

interface Written {
  entryId: string
}

/** Money came in for a lot. More than is owed is refused: it is somebody's, and only they can say what it is for. */
export function recordPayment(turn: Turn, actor: Actor, input: PaymentIn): Written {
  return once(turn, input.key, input, () => {
    const { currency, zone } = getCampaign(turn)
    const amountMinor = aboveNought(parseMoney(input.amount, currency, 'amount'))
    const { lot, account } = getSoldLot(turn, input.lot)
    if (account.owedMinor <= 0) throw Refusal.at('lot', `Lot ${lot.number} is paid in full. Choose another lot.`, 'conflict')
    if (amountMinor > account.owedMinor) {
      const over = showMoney(amountMinor - account.owedMinor, currency)
      const owed = showMoney(account.owedMinor, currency)
      throw Refusal.at(
        'amount',
        `Lot ${lot.number} has ${owed} to pay, so this is ${over} too much. Ask the buyer: record ${owed} here, and the rest as a gift or send it back.`,
      )
    }
    const entryId = writeEntry(turn, {
      kind: 'payment',
      postings: paymentPostings(amountMinor),
      memo: `Payment for lot ${lot.number}`,
      reference: input.reference,
      valueOn: valueDay(input.on ?? '', turn.now, zone),
      lotId: lot.id,
      lotNumber: lot.number,
      personId: lot.winnerPersonId,
      byPersonId: actor.personId,
    })
    return { entryId }
  })
}

/** Says what the postage of a sold lot is; a change is an entry of the difference. */
export function setPostage(turn: Turn, actor: Actor, input: PostageIn): Written {
  return once(turn, input.key, input, () => {
    const { currency, zone } = getCampaign(turn)
    const { lot, account } = getSoldLot(turn, input.lot)
    const difference = parseMoney(input.amount, currency, 'amount') - account.postageMinor
    if (difference === 0) throw Refusal.at('amount', `The postage of lot ${lot.number} is already that.`, 'conflict')
    if (account.owedMinor + difference < 0) {
      throw Refusal.at('amount', 'The buyer has paid more than that would leave to pay. Correct the payment first.', 'conflict')
    }
    const entryId = writeEntry(turn, {
      kind: 'postage',
      postings: postagePostings(difference),
      memo: `Postage of lot ${lot.number}`,
      valueOn: today(turn.now, zone),
      lotId: lot.id,
      lotNumber: lot.number,
      personId: lot.winnerPersonId,
      byPersonId: actor.personId,
    })
    return { entryId }
  })
}

/** Money was sent on to the cause: never more than has come in for it. */
export function recordRemittance(turn: Turn, actor: Actor, input: RemittanceIn): Written {
  return once(turn, input.key, input, () => {
    const { currency, zone } = getCampaign(turn)
    const amountMinor = aboveNought(parseMoney(input.amount, currency, 'amount'))
    const held = heldForCause(store.readJournal(turn.db))
    if (amountMinor > held) {
      throw Refusal.at('amount', `Only ${showMoney(held, currency)} has come in for the cause and is not yet sent on.`)
    }
    const entryId = writeEntry(turn, {
      kind: 'remittance',
      postings: remittancePostings(amountMinor),
      memo: 'Sent on to the cause',
      reference: input.reference,
      valueOn: valueDay(input.on ?? '', turn.now, zone),
      byPersonId: actor.personId,
    })
    return { entryId }
  })
}

/** A gift of money: it goes to the cause whole and buys nothing. */
export function recordMoneyGift(turn: Turn, actor: Actor, input: MoneyGiftIn): Written {
  return once(turn, input.key, input, () => {
    const { currency, zone } = getCampaign(turn)
    const amountMinor = aboveNought(parseMoney(input.amount, currency, 'amount'))
    if (input.donorId) getDonor(turn, input.donorId)
    const entryId = writeEntry(turn, {
      kind: 'gift',
      postings: giftPostings(amountMinor),
      memo: `Gift of money from ${input.from}`,
      reference: input.reference,
      valueOn: valueDay(input.on ?? '', turn.now, zone),
      donorId: input.donorId ?? null,
      byPersonId: actor.personId,
    })
    return { entryId }
  })
}

/** Takes an entry back by another one. What later entries rest on cannot be pulled from under them. */
export function correctEntry(turn: Turn, actor: Actor, input: CorrectionIn): Written {
  return once(turn, input.key, input, () => {
    const found = store.findEntry(turn.db, input.entryId)
    if (!found) throw Refusal.at('entryId', 'There is no such entry. Reload the page.', 'not-found')
    if (found.correctsId !== null) throw Refusal.at('entryId', 'That entry is a correction itself. Write the right one anew.', 'conflict')
    if (store.findCorrectionOf(turn.db, found.id)) throw Refusal.at('entryId', 'That entry was already taken back.', 'conflict')
    if (found.kind === 'hammer') throw Refusal.at('entryId', 'A hammer price is made by the sale and stays.', 'conflict')
    const entryId = writeEntry(turn, {
      kind: found.kind,
      postings: reversed(store.readPostings(turn.db, found.id)),
      memo: `Taken back: ${found.memo}. ${input.why}`,
      reference: found.reference,
      valueOn: today(turn.now, getCampaign(turn).zone),
      ...(found.lotId !== null && { lotId: found.lotId, lotNumber: listLots(turn).find(({ id }) => id === found.lotId)?.number ?? 0 }),
      personId: found.personId,
      donorId: found.donorId,
      byPersonId: actor.personId,
      correctsId: found.id,
    })
    const after = store.readJournal(turn.db)
    if (heldForCause(after) < 0 || lotAccounts(after).some(({ owedMinor }) => owedMinor < 0)) {
      throw Refusal.at('entryId', 'Later entries rest on that one: take those back first.', 'conflict')
    }
    return { entryId }
  })
}

/** Meter, lots, statement and journal, for the treasurer. */
export function readBooks(sight: Sight, actor: Actor): Books {
  const campaign = getCampaign(sight)
  const entries = store.readJournal(sight.db)
  const lots = listLots(sight)
  const sold = listSoldLots(sight)
  const hammered = lots.flatMap(({ id, number, state, hammerMinor }) =>
    state === 'sold' && hammerMinor !== null ? [{ id, number, hammerMinor }] : [],
  )
  const journal = entries.map(
    (entry): JournalLine => ({
      id: entry.id,
      at: entry.at,
      valueOn: entry.valueOn,
      kind: entry.kind,
      memo: entry.memo,
      reference: entry.reference,
      lot: lots.find(({ id }) => id === entry.lotId)?.number ?? null,
      by: entry.byPersonId === null ? null : (findPerson(sight, entry.byPersonId)?.name ?? null),
      isCorrection: entry.correctsId !== null,
      isCorrected: entries.some(({ correctsId }) => correctsId === entry.id),
      postings: [...entry.postings],
    }),
  )
  const statement = {
    currency: campaign.currency,
    causeName: campaign.causeName,
    causeRegistration: campaign.causeRegistration,
    at: sight.now,
    lots: sold,
    ...sumStatement(sold, entries),
    ...findVariance(hammered, entries, campaign.currency),
  }
  return { meter: proceeds(sight), statement, journal, mayWrite: actor.role === 'treasurer' }
}

/** Every lot that a hammer fell on, with where its money stands. */
export function listSoldLots(sight: Sight): SoldLot[] {
  const campaign = getCampaign(sight)
  const accounts = lotAccounts(store.readJournal(sight.db))
  return listLots(sight).flatMap((lot): SoldLot[] => {
    const account = accounts.find(({ lotId }) => lotId === lot.id)
    if (!account) return []
    const { hammerMinor, causeMinor, postageMinor, receivedMinor, owedMinor } = account
    const buyer = lot.winnerPersonId === null ? null : findPerson(sight, lot.winnerPersonId)
    return [
      {
        number: lot.number,
        title: lot.title,
        unit: lot.unit,
        state: lotMoneyState(account),
        buyer: buyer?.name ?? 'sold elsewhere',
        paddle: lot.winnerPersonId === null ? null : (findPaddle(sight, lot.winnerPersonId)?.number ?? null),
        reference: lotReference(campaign.id, lot.number),
        hammerMinor,
        causeMinor,
        postageMinor,
        receivedMinor,
        owedMinor,
        closedAt: lot.endedAt,
      },
    ]
  })
}

function getSoldLot(sight: Sight, number: number): { lot: ReturnType<typeof listLots>[number]; account: LotAccount } {
  const lot = listLots(sight).find((each) => each.number === number)
  if (!lot) throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  const account = lotAccounts(store.readJournal(sight.db)).find(({ lotId }) => lotId === lot.id)
  if (!account) throw Refusal.at('lot', `Lot ${number} has not been sold, so nothing is owed for it.`, 'conflict')
  return { lot, account }
}

function aboveNought(amountMinor: number): number {
  if (amountMinor === 0) throw Refusal.at('amount', 'Write an amount above zero.')
  return amountMinor
}
