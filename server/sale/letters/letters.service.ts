import { civilOf } from '#kernel/civil'
import { type Minor, showMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Turn } from '#runtime/queue/turn'
import type { BidAnswer } from '../bidding/bidding.contract'
import * as store from '../bids/bids.store'
import { getLotRow, type LotRow } from '../lots/lots.service'

const nameOf = (row: LotRow): string => `lot ${row.number}, ${row.terms?.sale.title ?? row.title}`

/** Tells the underbidder, in plain words, as the winner is told by the invoice; or the leader, that the reserve was not reached. */
export function tellOfEnd(turn: Turn, row: LotRow, { second }: { second: string | null }): void {
  const { currency } = getCampaign(turn)
  const show = (amount: Minor) => showMoney(amount, row.terms?.currency ?? currency)
  const page = `${turn.publicUrl}/lots/${row.number}`
  if (row.state === 'sold' && row.hammerMinor !== null) {
    send(
      turn,
      second,
      `You did not win ${nameOf(row)}`,
      `It was sold at ${show(row.hammerMinor)}; somebody else had allowed more. You owe nothing for it.\n\nThe history that anyone can check: ${page}/history\nOther lots: ${turn.publicUrl}/`,
    )
    return
  }
  send(
    turn,
    row.leaderPersonId,
    `${nameOf(row)} was not sold`.replace(/^l/, 'L'),
    `You led when it closed, but the reserve was not reached. You owe nothing for it.\n\nThe history that anyone can check: ${page}/history`,
  )
}

export function tellOfWithdrawal(turn: Turn, row: LotRow, reason: string): void {
  tellBidders(
    turn,
    row,
    `${nameOf(row)} was withdrawn`.replace(/^l/, 'L'),
    `Nobody wins it and nobody owes anything for it. The reason given: ${reason}`,
  )
}

/** The description was corrected while the lot was open: whoever bid on it is told. */
export function tellOfCorrection(turn: Turn, row: LotRow, words: string): void {
  tellBidders(
    turn,
    row,
    `Correction to ${nameOf(row)}`,
    `The description of a lot on which you bid was corrected:\n\n${words}\n\nThe lot: ${turn.publicUrl}/lots/${row.number}`,
  )
}

export function tellOfVoid(turn: Turn, row: LotRow, personId: string | null, reason: string): void {
  send(
    turn,
    personId,
    `Your bids on ${nameOf(row)} were voided`,
    `Two of the staff decided so. The reason given: ${reason}\n\nYou owe nothing for it. If this is wrong, answer this mail.`,
  )
}

/** The next maximum of an either-or stands now. */
export function tellOfWake(turn: Turn, row: LotRow, personId: string, { leads, maximumMinor, standingMinor }: BidAnswer): void {
  const show = (amount: Minor) => showMoney(amount, row.terms?.currency ?? 'GBP')
  const stand = leads ? `You lead at ${show(standingMinor)}.` : `Somebody had allowed more: it stands at ${show(standingMinor)}.`
  send(
    turn,
    personId,
    `Your bid on ${nameOf(row)} stands now`,
    `The lot before it in your either-or ended without you, so your maximum of ${show(maximumMinor)} stands here. ${stand}\n\nThe lot: ${turn.publicUrl}/lots/${row.number}\nYour either-or: ${turn.publicUrl}/me/either-or`,
  )
}

export function tellOfLapse(turn: Turn, row: LotRow, personId: string, why: string): void {
  send(
    turn,
    personId,
    `Your maximum for ${nameOf(row)} has lapsed`,
    `It never became a bid and costs nothing. ${why}\n\nYour either-or: ${turn.publicUrl}/me/either-or`,
  )
}

/** The programme was changed on the day: whoever bid on the lot is told when it closes now, and why. */
export function tellOfNewClosing(turn: Turn, number: number, closesAt: number, reason: string): void {
  const row = getLotRow(turn, number)
  const [, clock = ''] = civilOf(closesAt, getCampaign(turn).zone).split('T')
  tellBidders(
    turn,
    row,
    `${nameOf(row)} closes at ${clock} now`.replace(/^l/, 'L'),
    `The programme was changed: ${reason}\n\nIt closes at ${clock} (${getCampaign(turn).zone}); a late bid moves that. Your bids stand.\n\nThe lot: ${turn.publicUrl}/lots/${row.number}`,
  )
}

/** The clock of this one lot was stopped by what was found at the bench: whoever bid on it need not find out by looking. */
export function tellOfUnitHold(turn: Turn, row: LotRow, reason: string): void {
  tellBidders(
    turn,
    row,
    `${nameOf(row)} is on hold`.replace(/^l/, 'L'),
    `Its clock stands still and no bid is taken for now. The reason given: ${reason}\n\nNo bid is lost. We write again when the clock goes on, or when the lot is withdrawn; then you owe nothing for it.\n\nThe lot: ${turn.publicUrl}/lots/${row.number}`,
  )
}

/** The clock of this one lot goes on: when it closes now. */
export function tellOfResumption(turn: Turn, row: LotRow): void {
  if (row.closesAt === null) return
  const { zone } = getCampaign(turn)
  const [day, clock] = civilOf(row.closesAt, zone).split('T')
  tellBidders(
    turn,
    row,
    `${nameOf(row)} goes on`.replace(/^l/, 'L'),
    `Its clock goes on, and every bid stands as it stood. It closes on ${day} at ${clock} (${zone}); a late bid moves that.\n\nPlease look at the record once more: ${turn.publicUrl}/lots/${row.number}`,
  )
}

function tellBidders(turn: Turn, row: LotRow, subject: string, body: string): void {
  for (const { personId } of store.listAliases(turn.db, row.id)) send(turn, personId, subject, body)
}

function send(turn: Turn, personId: string | null, subject: string, body: string): void {
  const to = personId ? findPerson(turn, personId)?.email : undefined
  if (to) turn.post({ to, subject, body })
}
