import { type Currency, type Minor, showMoney } from '#kernel/money'
import type { NoticeKind } from '../letters/notices.rules'
import { type LateBid, lateWindowWords } from '../price/late-bid.rules'

/** What a device shows: nothing of anybody but its owner, and nothing that a lock screen should hide, such as a maximum. */
export interface PushWords {
  title: string
  body: string
  /** Where a tap leads. */
  url: string
}

/** A lot as its reader has it at the moment in which it is told. */
export interface PushedLot {
  number: number
  title: string
  currency: Currency
  standingMinor: Minor | null
  hammerMinor: Minor | null
  /** Null for somebody who has not bid on it. */
  leads: boolean | null
  /** "18:30" in the reader's zone; null where none is to come. */
  clock: string | null
}

const price = ({ standingMinor, hammerMinor, currency }: PushedLot): string => showMoney(hammerMinor ?? standingMinor ?? 0, currency)

/** What happened to somebody's own bids. */
export function noticeWords(kind: NoticeKind, lot: PushedLot): PushWords {
  const { number, title, clock } = lot
  const url = `/lots/${number}`
  const closes = clock === null ? '' : ` It closes at ${clock}.`
  switch (kind) {
    case 'outbid':
      return { title: `Outbid on lot ${number}`, body: `${title}: somebody else leads at ${price(lot)}.${closes}`, url }
    case 'bound-again':
      return {
        title: `You lead lot ${number} again`,
        body: `Another bidder’s bids were voided. You lead at ${price(lot)}, and are bound by your bid.`,
        url,
      }
    case 'won':
      return { title: `You won lot ${number}`, body: `${title} is yours at ${price(lot)}.`, url: `/me/won/${number}` }
    case 'lost':
      return { title: `You did not win lot ${number}`, body: `${title} was sold at ${price(lot)}. You owe nothing for it.`, url }
    case 'unsold':
      return { title: `Lot ${number} was not sold`, body: 'The reserve was not reached. You owe nothing for it.', url }
    case 'voided':
      return { title: `Your bids on lot ${number} were voided`, body: 'You owe nothing for it. The reason is in your email.', url }
    case 'withdrawn':
      return { title: `Lot ${number} was withdrawn`, body: 'Nobody wins it, and nobody owes anything for it.', url }
    case 'corrected':
      return { title: `Lot ${number} was corrected`, body: `The description of ${title} was corrected. Your bids stand.`, url }
    case 'held':
      return { title: `Lot ${number} is on hold`, body: 'Its clock is stopped, and no bids are taken for now. Your bids stand.', url }
    case 'goes-on':
      return { title: `Lot ${number} goes on`, body: `Your bids stand.${closes}`, url }
    case 'moved':
      return { title: `Lot ${number} now closes at ${clock ?? 'another time'}`, body: 'The programme was changed. Your bids stand.', url }
    case 'woken':
      return {
        title: `Your bid on lot ${number} stands now`,
        body: lot.leads ? `You lead at ${price(lot)}.` : `Somebody’s maximum was higher: the price is ${price(lot)}.`,
        url,
      }
    case 'lapsed':
      return {
        title: `Your maximum for lot ${number} has lapsed`,
        body: 'It never became a bid and costs nothing.',
        url: '/me/either-or',
      }
    case 'fell-through':
      return {
        title: `Your purchase of lot ${number} fell through`,
        body: `${title} is not yours, and you owe nothing for it. Anything you paid for it is owed back to you.`,
        url: '/me',
      }
    case 'stands-again':
      return {
        title: `Your purchase of lot ${number} stands after all`,
        body: `${title} is yours. What is to pay for it is on its page.`,
        url: `/me/won/${number}`,
      }
    case 'closes-soon':
      return { title: `Lot ${number} closes soon`, body: `${title}.${closes}`, url }
  }
}

const yours = ({ leads }: PushedLot): string => (leads === null ? '' : leads ? ' You lead.' : ' Somebody else leads.')
const stands = (lot: PushedLot): string => (lot.standingMinor === null ? 'Nobody has bid yet.' : `It stands at ${price(lot)}.${yours(lot)}`)

/** The last minutes of a lot, by its own rule for late bids. */
export const lastMinutesWords = (lot: PushedLot, { windowMs }: LateBid): PushWords => ({
  title: `Lot ${lot.number}: ${lateWindowWords(windowMs)} left`,
  body: `${lot.title}. ${stands(lot)}`,
  url: `/lots/${lot.number}`,
})

/** A late bid moved the closing. */
export const extendedWords = (lot: PushedLot, { addsMs }: LateBid): PushWords => ({
  title: `Lot ${lot.number}: ${lateWindowWords(addsMs)} left again`,
  body: `A late bid moved the closing. ${stands(lot)}`,
  url: `/lots/${lot.number}`,
})
