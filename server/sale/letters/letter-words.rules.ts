import { type Currency, type Minor, showMoney } from '#kernel/money'
import { READER_PLACE } from '#people/outbox/sealed-words'

/** A letter as it is sent: its subject, and its words in paragraphs. */
export interface Words {
  subject: string
  body: string
  /** What is for the reader alone: in the body a sign stands in its place. */
  forReader?: string
}

/** What every letter says of the lot it is about. */
export interface AboutLot {
  number: number
  title: string
  currency: Currency
  /** Where the house is reached, no slash at the end. */
  publicUrl: string
}

/** A time as it reads in the zone of whoever reads the letter. */
export interface LocalTime {
  /** "Saturday 13 March" */
  day: string
  /** "18:30" */
  clock: string
  zone: string
}

const nameOf = ({ number, title }: AboutLot): string => `lot ${number}, ${title}`
const begin = (words: string): string => words.replace(/^l/, 'L')
const pageOf = ({ number, publicUrl }: AboutLot): string => `${publicUrl}/lots/${number}`
const eitherOrPage = ({ publicUrl }: AboutLot): string => `${publicUrl}/me/either-or`
const show = ({ currency }: AboutLot, amount: Minor): string => showMoney(amount, currency)

const on = ({ day, clock, zone }: LocalTime): string => `on ${day} at ${clock} (${zone})`
const closesOn = (closing: LocalTime | null): string =>
  closing ? `It closes ${on(closing)}; a late bid can move that.` : 'Its clock is stopped for now.'

/** Somebody else leads. */
export const outbidLetter = (lot: AboutLot, standingMinor: Minor, closing: LocalTime | null): Words => ({
  subject: `You were outbid on ${nameOf(lot)}`,
  body: `Somebody else leads at ${show(lot, standingMinor)}. ${closesOn(closing)}\n\nTo bid again: ${pageOf(lot)}`,
})

/** The bids of another were voided, so theirs counts again. */
export const boundAgainLetter = (lot: AboutLot, standingMinor: Minor, closing: LocalTime | null): Words => ({
  subject: `You lead ${nameOf(lot)} again`,
  body: `Another bidder’s bids were voided, so yours counts again: you lead at ${show(lot, standingMinor)} and are bound by it. If nobody bids more, you have bought it. ${closesOn(closing)}\n\nThe lot: ${pageOf(lot)}`,
})

/** To everybody who bid on a lot that somebody else has won. */
export const lostLetter = (lot: AboutLot, hammerMinor: Minor): Words => ({
  subject: `You did not win ${nameOf(lot)}`,
  body: `It was sold at ${show(lot, hammerMinor)}; somebody else’s maximum was higher. You owe nothing for it.\n\nThe history that anyone can check: ${pageOf(lot)}/history\nOther lots: ${lot.publicUrl}/`,
})

/** To everybody who bid on a lot that closed under its reserve. */
export const notSoldLetter = (lot: AboutLot, led: boolean): Words => ({
  subject: begin(`${nameOf(lot)} was not sold`),
  body: `${led ? 'You led when it closed, but the reserve was not reached.' : 'It closed without reaching its reserve.'} You owe nothing for it.\n\nThe history that anyone can check: ${pageOf(lot)}/history`,
})

/** To whoever bought a lot, by whatever contract, once that sale has fallen through. */
export const fellThroughLetter = (lot: AboutLot): Words => ({
  subject: `Your purchase of ${nameOf(lot)}, fell through`,
  body: `You owe nothing for it any more. If you have paid for it, that money is owed back to you and will be refunded.\n\nThe lot: ${pageOf(lot)}\nYour bids and what you bought: ${lot.publicUrl}/me`,
})

/** To the same, where that was taken back. */
export const standsAgainLetter = (lot: AboutLot): Words => ({
  subject: `Your purchase of ${nameOf(lot)}, stands after all`,
  body: `That the sale fell through has been taken back, and the lot is yours.\n\nWhat is to pay for it, and where it goes: ${lot.publicUrl}/me/won/${lot.number}`,
})

export const withdrawnLetter = (lot: AboutLot, reason: string): Words => ({
  subject: begin(`${nameOf(lot)} was withdrawn`),
  body: `Nobody wins it and nobody owes anything for it. The reason given: ${reason}`,
})

export const correctionLetter = (lot: AboutLot, words: string): Words => ({
  subject: `Correction to ${nameOf(lot)}`,
  body: `The description of a lot you have bid on was corrected:\n\n${words}\n\nThe lot: ${pageOf(lot)}`,
})

export const voidLetter = (lot: AboutLot, reason: string): Words => ({
  subject: `Your bids on ${nameOf(lot)} were voided`,
  body: `This was decided by two members of staff. The reason given: ${reason}\n\nYou owe nothing for it. If this is wrong, reply to this email.`,
})

/** Why a maximum became a bid: a lot before it ended without the reader, its own lot went on, or they changed the either-or. */
export type WhyWoken = 'ended' | 'went-on' | 'changed'

const WOKEN: Record<WhyWoken, string> = {
  ended: 'You did not win the lot before it in your either-or',
  'went-on': 'Its clock is running again',
  changed: 'You changed your either-or',
}

/** What the bid came to that an either-or placed by itself. */
export interface WokenBid {
  why: WhyWoken
  leads: boolean
  /** As it is shown to its reader alone. */
  maximum: string
  standingMinor: Minor
}

/** The next maximum of an either-or stands as a bid now. */
export function wokenLetter(lot: AboutLot, { why, leads, maximum, standingMinor }: WokenBid): Words {
  const price = show(lot, standingMinor)
  const outcome = leads ? `You lead at ${price}.` : `Somebody’s maximum was higher: the price is ${price}.`
  return {
    subject: `Your bid on ${nameOf(lot)} now counts`,
    body: `${WOKEN[why]}, so your maximum of ${READER_PLACE} is now a bid here. ${outcome}\n\nThe lot: ${pageOf(lot)}\nYour either-or: ${eitherOrPage(lot)}`,
    forReader: maximum,
  }
}

export const lapsedLetter = (lot: AboutLot, why: string): Words => ({
  subject: `Your maximum for ${nameOf(lot)} has lapsed`,
  body: `It never became a bid and costs nothing. ${why}\n\nYour either-or: ${eitherOrPage(lot)}`,
})

/** The programme was changed on the day. */
export const newClosingLetter = (lot: AboutLot, closing: LocalTime, reason: string): Words => ({
  subject: begin(`${nameOf(lot)} now closes at ${closing.clock}`),
  body: `The programme was changed: ${reason}\n\n${closesOn(closing)} Your bids stand.\n\nThe lot: ${pageOf(lot)}`,
})

/** The programme was changed on the day, and several lots close at another time for the same reason. */
export const newClosingsLetter = (closings: readonly { lot: AboutLot; at: LocalTime }[], reason: string, publicUrl: string): Words => ({
  subject: `${closings.length} lots you have bid on close at a different time`,
  body: `The programme was changed: ${reason}\n\n${closings.map(({ lot, at }) => `${begin(nameOf(lot))}: now ${on(at)}`).join('\n')}\n\nA late bid can move a closing. Your bids stand.\n\nYour bids: ${publicUrl}/me`,
})

export const onHoldLetter = (lot: AboutLot, reason: string): Words => ({
  subject: begin(`${nameOf(lot)} is on hold`),
  body: `Its clock is stopped and no bids are taken for now. The reason given: ${reason}\n\nNo bid is lost. We will write again when the clock restarts, or if the lot is withdrawn, in which case you owe nothing for it.\n\nThe lot: ${pageOf(lot)}`,
})

/** To the makers: a lot could not be closed. */
export const damagedLetter = (lot: AboutLot, damage: string): Words => ({
  subject: begin(`${nameOf(lot)} could not be closed: its record is damaged`),
  body: `When it was due to close, the house checked its record of the bids, and the record does not agree with itself. ${damage}\n\nIt was not closed, its clock is stopped and nobody can bid on it. All other lots carry on.\n\nKeep the data folder as it is, and compare it with the latest copy below "backups": in a copy from before the damage the lot can be closed. Or withdraw the lot; then nobody owes anything for it.\n\nThe lot: ${pageOf(lot)}`,
})

export const goesOnLetter = (lot: AboutLot, closing: LocalTime): Words => ({
  subject: begin(`${nameOf(lot)} is running again`),
  body: `Its clock is running again, and every bid stands as it was. ${closesOn(closing)}\n\nPlease look at the record again: ${pageOf(lot)}`,
})

/** To whoever asked to be reminded of a closing. */
export const reminderLetter = (lot: AboutLot, closing: LocalTime, standingMinor: Minor | null): Words => {
  const price = standingMinor === null ? 'Nobody has bid on it yet.' : `The price is ${show(lot, standingMinor)}.`
  return {
    subject: `Lot ${lot.number} closes at ${closing.clock}: ${lot.title}`,
    body: `${lot.title} closes ${on(closing)}; a late bid can move that. ${price}\n\nThe lot: ${pageOf(lot)}\n\nYou asked for this one email.`,
  }
}
