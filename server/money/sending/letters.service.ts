import { findPerson } from '#people/people/people.service'
import type { Turn } from '#runtime/queue/turn'
import { lotsInWords } from '../journal/lot-words.rules'

/** A parcel by what is in it, the first of its lots leading to the buyer's page. */
interface ParcelWords {
  lots: readonly number[]
  title: string
  buyerPersonId: string
}

export interface SentWords extends ParcelWords {
  carrier: string
  tracking: string
  trackingUrl: string
}

const capital = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`
const opening = (lots: readonly number[]): string => `${capital(lotsInWords(lots))} ${lots.length > 1 ? 'are' : 'is'}`

const pageOf = (turn: Turn, lot: number): string => `${turn.publicUrl}/me/won/${lot}`

/** Never the address: a mail is read by more than its reader. */
export function tellSent(turn: Turn, { lots, title, buyerPersonId, carrier, tracking, trackingUrl }: SentWords): void {
  const number = tracking === '' ? '' : ` Its number with them: ${tracking}.`
  const follow = trackingUrl === '' ? '' : `\nFollow it: ${trackingUrl}`
  send(
    turn,
    buyerPersonId,
    `${opening(lots)} on ${lots.length > 1 ? 'their' : 'its'} way: ${title}`,
    `${title} ${lots.length > 1 ? 'have left the bench in one parcel' : 'has left the bench'} with ${carrier}.${number}${follow}\n\nWhen it arrives, say so on your page; if something is wrong with it, report it there: ${pageOf(turn, lots[0] ?? 0)}`,
  )
}

export function tellArrived(turn: Turn, { lots, title, buyerPersonId }: ParcelWords): void {
  send(
    turn,
    buyerPersonId,
    `${lots.length > 1 ? `${capital(lotsInWords(lots))} have` : `Lot ${lots[0]} has`} arrived: ${title}`,
    `The carrier says that ${title} ${lots.length > 1 ? 'have' : 'has'} been delivered. If anything has not arrived, or something is wrong with it, say so on your page: ${pageOf(turn, lots[0] ?? 0)}\n\nInstructions for repeating the checks are in the box.`,
  )
}

export interface ProblemWords {
  lot: number
  title: string
  buyerPersonId: string
  words: string
}

/** To the buyer, that it has been heard, and by when an answer comes; to the staff, that somebody waits. */
export function tellProblem(turn: Turn, about: ProblemWords & { answerBy: string; staff: readonly string[] }): void {
  send(
    turn,
    about.buyerPersonId,
    `We have your report on lot ${about.lot}`,
    `You wrote:\n\n${about.words}\n\nA first answer comes by ${about.answerBy}. You can follow everything on your page: ${pageOf(turn, about.lot)}`,
  )
  for (const to of about.staff) {
    turn.post({
      to,
      subject: `A problem with lot ${about.lot}: ${about.title}`,
      body: `The buyer writes:\n\n${about.words}\n\nA first answer is due by ${about.answerBy}: ${turn.publicUrl}/bench/sending/${about.lot}#problems`,
    })
  }
}

export function tellNote(turn: Turn, about: ProblemWords & { side: 'buyer' | 'staff'; staff: readonly string[] }): void {
  if (about.side === 'staff') {
    send(turn, about.buyerPersonId, `An answer on lot ${about.lot}`, `${about.words}\n\nAnswer on your page: ${pageOf(turn, about.lot)}`)
    return
  }
  for (const to of about.staff)
    turn.post({
      to,
      subject: `The buyer of lot ${about.lot} answers`,
      body: `${about.words}\n\n${turn.publicUrl}/bench/sending/${about.lot}#problems`,
    })
}

export function tellProblemEnd(turn: Turn, about: ProblemWords & { ended: string }): void {
  send(
    turn,
    about.buyerPersonId,
    `The problem with lot ${about.lot} is closed`,
    `${about.ended}\n\n${about.words}\n\nIf that is not what you expected, reply to this email or report it again: ${pageOf(turn, about.lot)}`,
  )
}

function send(turn: Turn, personId: string, subject: string, body: string): void {
  const to = findPerson(turn, personId)?.email
  if (to) turn.post({ to, subject, body })
}
