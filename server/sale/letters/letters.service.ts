import { type Minor, showMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import { listStaff } from '#people/people/people.service'
import type { Turn } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { getLotRow, type LotRow } from '../lots/lots.service'
import { damagedLetter, type WhyWoken } from './letter-words.rules'
import type { NoticeKind } from './notices.rules'
import { about, notify } from './notices.service'

/** Whoever led a lot does no more: somebody allowed more. */
export const tellOfOutbid = (turn: Turn, row: LotRow, personId: string): void => notify(turn, personId, row.id, 'outbid')

/** Whoever leads once the bids of another were voided is bound again by theirs. */
export const tellOfLeadAgain = (turn: Turn, row: LotRow, personId: string): void => notify(turn, personId, row.id, 'bound-again')

/** Everybody who bid hears how it ended. */
export function tellOfEnd(turn: Turn, row: LotRow): void {
  for (const personId of biddersOf(turn, row)) {
    const kind = row.state !== 'sold' ? 'unsold' : personId === row.winnerPersonId ? 'won' : 'lost'
    notify(turn, personId, row.id, kind)
  }
}

export const tellOfWithdrawal = (turn: Turn, row: LotRow, reason: string): void => tellBidders(turn, row, 'withdrawn', reason)

/** The description was corrected while the lot was open: whoever bid on it is told. */
export const tellOfCorrection = (turn: Turn, row: LotRow, correction: string): void => tellBidders(turn, row, 'corrected', correction)

export function tellOfVoid(turn: Turn, row: LotRow, personId: string | null, reason: string): void {
  if (personId) notify(turn, personId, row.id, 'voided', { reason })
}

/** A maximum of an either-or became a bid. */
export const tellOfWake = (turn: Turn, row: LotRow, personId: string, woken: { maximumMinor: Minor; why: WhyWoken }): void =>
  notify(turn, personId, row.id, 'woken', {
    reason: woken.why,
    forReader: showMoney(woken.maximumMinor, row.terms?.currency ?? getCampaign(turn).currency),
  })

export const tellOfLapse = (turn: Turn, row: LotRow, personId: string, why: string): void =>
  notify(turn, personId, row.id, 'lapsed', { reason: why })

/** The programme was changed on the day: whoever bid on the lot is told when it closes now, and why. */
export function tellOfNewClosing(turn: Turn, number: number, reason: string): void {
  tellBidders(turn, getLotRow(turn, number), 'moved', reason)
}

/** The clock of this one lot was stopped by what was found at the bench: whoever bid on it need not find out by looking. */
export const tellOfUnitHold = (turn: Turn, row: LotRow, reason: string): void => tellBidders(turn, row, 'held', reason)

/** What is kept of a lot is damaged: only the makers are told what of it. */
export function tellMakersOfDamage(turn: Turn, row: LotRow, damage: string): void {
  const letter = damagedLetter(about(turn, row), damage)
  for (const { role, email } of listStaff(turn)) if (role === 'maker') turn.post({ to: email, ...letter })
}

/** The clock of this one lot goes on: when it closes now. */
export const tellOfResumption = (turn: Turn, row: LotRow): void => tellBidders(turn, row, 'goes-on')

/** Their sale of a lot, by whatever contract, fell through, or stands again after all. */
export const tellOfSale = (turn: Turn, row: LotRow, personId: string, kind: 'fell-through' | 'stands-again'): void =>
  notify(turn, personId, row.id, kind)

/** Reminds one person of a closing, as they asked. */
export const remindOfClosing = (turn: Turn, row: LotRow, personId: string): void => notify(turn, personId, row.id, 'closes-soon')

/** Whose bids on a lot count. */
const biddersOf = (turn: Turn, row: LotRow): string[] =>
  listAliases(turn, row.id).flatMap(({ personId, voidedAt }) => (voidedAt === null ? personId : []))

function tellBidders(turn: Turn, row: LotRow, kind: NoticeKind, reason?: string): void {
  for (const personId of biddersOf(turn, row)) notify(turn, personId, row.id, kind, { reason })
}
