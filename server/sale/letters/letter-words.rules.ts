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

/** A time of day as it reads in the zone of the campaign. */
export interface LocalTime {
  /** "2027-03-13" */
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

/** To whoever came second when the hammer fell: they were outbid for good. */
export const outbidLetter = (lot: AboutLot, hammerMinor: Minor): Words => ({
  subject: `You did not win ${nameOf(lot)}`,
  body: `It was sold at ${show(lot, hammerMinor)}; somebody else had allowed more. You owe nothing for it.\n\nThe history that anyone can check: ${pageOf(lot)}/history\nOther lots: ${lot.publicUrl}/`,
})

/** To whoever led when a lot closed under its reserve. */
export const notSoldLetter = (lot: AboutLot): Words => ({
  subject: begin(`${nameOf(lot)} was not sold`),
  body: `You led when it closed, but the reserve was not reached. You owe nothing for it.\n\nThe history that anyone can check: ${pageOf(lot)}/history`,
})

export const withdrawnLetter = (lot: AboutLot, reason: string): Words => ({
  subject: begin(`${nameOf(lot)} was withdrawn`),
  body: `Nobody wins it and nobody owes anything for it. The reason given: ${reason}`,
})

export const correctionLetter = (lot: AboutLot, words: string): Words => ({
  subject: `Correction to ${nameOf(lot)}`,
  body: `The description of a lot on which you bid was corrected:\n\n${words}\n\nThe lot: ${pageOf(lot)}`,
})

export const voidLetter = (lot: AboutLot, reason: string): Words => ({
  subject: `Your bids on ${nameOf(lot)} were voided`,
  body: `Two of the staff decided so. The reason given: ${reason}\n\nYou owe nothing for it. If this is wrong, reply to this email.`,
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
  maximumMinor: Minor
  standingMinor: Minor
}

/** The next maximum of an either-or stands as a bid now. */
export function wokenLetter(lot: AboutLot, { why, leads, maximumMinor, standingMinor }: WokenBid): Words {
  const price = show(lot, standingMinor)
  const outcome = leads ? `You lead at ${price}.` : `Somebody had allowed more: it stands at ${price}.`
  return {
    subject: `Your bid on ${nameOf(lot)} stands now`,
    body: `${WOKEN[why]}, so your maximum of ${READER_PLACE} stands here. ${outcome}\n\nThe lot: ${pageOf(lot)}\nYour either-or: ${eitherOrPage(lot)}`,
    forReader: show(lot, maximumMinor),
  }
}

export const lapsedLetter = (lot: AboutLot, why: string): Words => ({
  subject: `Your maximum for ${nameOf(lot)} has lapsed`,
  body: `It never became a bid and costs nothing. ${why}\n\nYour either-or: ${eitherOrPage(lot)}`,
})

/** The programme was changed on the day. */
export const newClosingLetter = (lot: AboutLot, { clock, zone }: LocalTime, reason: string): Words => ({
  subject: begin(`${nameOf(lot)} closes at ${clock} now`),
  body: `The programme was changed: ${reason}\n\nIt closes at ${clock} (${zone}); a late bid moves that. Your bids stand.\n\nThe lot: ${pageOf(lot)}`,
})

export const onHoldLetter = (lot: AboutLot, reason: string): Words => ({
  subject: begin(`${nameOf(lot)} is on hold`),
  body: `Its clock stands still and no bid is taken for now. The reason given: ${reason}\n\nNo bid is lost. We write again when the clock goes on, or when the lot is withdrawn; then you owe nothing for it.\n\nThe lot: ${pageOf(lot)}`,
})

/** To the makers: a lot could not be closed. */
export const damagedLetter = (lot: AboutLot, damage: string): Words => ({
  subject: begin(`${nameOf(lot)} could not be closed: what is kept of it is damaged`),
  body: `When it was to close, the house looked at what it keeps of its bids, and it does not agree. ${damage}\n\nNo price was struck, its clock stands still and nobody can bid on it. All other lots go on.\n\nKeep the data folder as it is, and compare it with the latest copy below "backups": in a copy from before the damage the lot can be closed. Or withdraw the lot; then nobody owes anything for it.\n\nThe lot: ${pageOf(lot)}`,
})

export const goesOnLetter = (lot: AboutLot, { day, clock, zone }: LocalTime): Words => ({
  subject: begin(`${nameOf(lot)} goes on`),
  body: `Its clock goes on, and every bid stands as it stood. It closes on ${day} at ${clock} (${zone}); a late bid moves that.\n\nPlease look at the record once more: ${pageOf(lot)}`,
})

/** To whoever asked to be reminded of a closing. */
export const reminderLetter = (lot: AboutLot, { clock, zone }: LocalTime, standingMinor: Minor | null): Words => {
  const price = standingMinor === null ? 'Nobody has bid on it yet.' : `It stands at ${show(lot, standingMinor)}.`
  return {
    subject: `Lot ${lot.number} closes at ${clock}: ${lot.title}`,
    body: `${lot.title} closes at ${clock} (${zone}); a late bid moves that. ${price}\n\nThe lot: ${pageOf(lot)}\n\nYou asked for this one email.`,
  }
}
