import { civilOf } from '#kernel/civil'
import type { Instant } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson, listStaff } from '#people/people/people.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { getLotRow, type LotRow } from '../lots/lots.service'
import * as words from './letter-words.rules'

/** Tells the underbidder, as the winner is told by the invoice; or the leader, that the reserve was not reached. */
export function tellOfEnd(turn: Turn, row: LotRow, { second }: { second: string | null }): void {
  if (row.state === 'sold' && row.hammerMinor !== null) {
    send(turn, second, words.outbidLetter(about(turn, row), row.hammerMinor))
    return
  }
  send(turn, row.leaderPersonId, words.notSoldLetter(about(turn, row)))
}

export const tellOfWithdrawal = (turn: Turn, row: LotRow, reason: string): void =>
  tellBidders(turn, row, words.withdrawnLetter(about(turn, row), reason))

/** The description was corrected while the lot was open: whoever bid on it is told. */
export const tellOfCorrection = (turn: Turn, row: LotRow, correction: string): void =>
  tellBidders(turn, row, words.correctionLetter(about(turn, row), correction))

export const tellOfVoid = (turn: Turn, row: LotRow, personId: string | null, reason: string): void =>
  send(turn, personId, words.voidLetter(about(turn, row), reason))

/** A maximum of an either-or became a bid. */
export const tellOfWake = (turn: Turn, row: LotRow, personId: string, bid: words.WokenBid): void =>
  send(turn, personId, words.wokenLetter(about(turn, row), bid))

export const tellOfLapse = (turn: Turn, row: LotRow, personId: string, why: string): void =>
  send(turn, personId, words.lapsedLetter(about(turn, row), why))

/** The programme was changed on the day: whoever bid on the lot is told when it closes now, and why. */
export function tellOfNewClosing(turn: Turn, number: number, closesAt: Instant, reason: string): void {
  const row = getLotRow(turn, number)
  tellBidders(turn, row, words.newClosingLetter(about(turn, row), localTime(turn, closesAt), reason))
}

/** The clock of this one lot was stopped by what was found at the bench: whoever bid on it need not find out by looking. */
export const tellOfUnitHold = (turn: Turn, row: LotRow, reason: string): void =>
  tellBidders(turn, row, words.onHoldLetter(about(turn, row), reason))

/** What is kept of a lot is damaged: only the makers are told what of it. */
export function tellMakersOfDamage(turn: Turn, row: LotRow, damage: string): void {
  const letter = words.damagedLetter(about(turn, row), damage)
  for (const { role, email } of listStaff(turn)) if (role === 'maker') turn.post({ to: email, ...letter })
}

/** The clock of this one lot goes on: when it closes now. */
export function tellOfResumption(turn: Turn, row: LotRow): void {
  if (row.closesAt !== null) tellBidders(turn, row, words.goesOnLetter(about(turn, row), localTime(turn, row.closesAt)))
}

/** Reminds one person of a closing, as they asked. */
export const remindOfClosing = (turn: Turn, row: LotRow, personId: string): void =>
  send(turn, personId, words.reminderLetter(about(turn, row), localTime(turn, row.closesAt ?? turn.now), row.standingMinor))

const about = (sight: Sight, row: LotRow): words.AboutLot => ({
  number: row.number,
  title: row.terms?.sale.title ?? row.title,
  currency: row.terms?.currency ?? getCampaign(sight).currency,
  publicUrl: sight.publicUrl,
})

function localTime(sight: Sight, at: Instant): words.LocalTime {
  const { zone } = getCampaign(sight)
  const [day = '', clock = ''] = civilOf(at, zone).split('T')
  return { day, clock, zone }
}

function tellBidders(turn: Turn, row: LotRow, letter: words.Words): void {
  // Whoever was voided has no bid there any more, so nothing that is said of the bids is true for them.
  for (const { personId, voidedAt } of listAliases(turn, row.id)) if (voidedAt === null) send(turn, personId, letter)
}

function send(turn: Turn, personId: string | null, letter: words.Words): void {
  const to = personId ? findPerson(turn, personId)?.email : undefined
  if (to) turn.post({ to, ...letter })
}
