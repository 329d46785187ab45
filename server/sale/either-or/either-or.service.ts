import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { BidAnswer } from '../bids/bids.contract'
import { findLastBid } from '../bids/bids.service'
import { takeBid } from '../bids/take-bid.service'
import type { WhyWoken } from '../letters/letter-words.rules'
import { tellOfLapse, tellOfWake } from '../letters/letters.service'
import { getLotRow, getLotRowById, isLeader, type LotRow } from '../lots/lots.service'
import { ofCap, ofLink, openFigure, sealFigure } from '../lots/sealed-figures'
import { leastNext } from '../price/price.rules'
import { type EitherOr, type LotNow, nextStep } from './either-or.rules'
import * as store from './either-or.store'

/** An either-or with its cap opened. */
export interface EitherOrRow extends Omit<store.StoredEitherOr, 'sealedCap'> {
  capMinor: Minor | null
}

/** One of its lots with its maximum opened. */
interface LinkRow extends Omit<store.StoredLink, 'sealed'> {
  lot: number
  maximumMinor: Minor
}

function opened({ keys }: Sight, { sealedCap, ...row }: store.StoredEitherOr): EitherOrRow {
  return { ...row, capMinor: sealedCap === null ? null : openFigure(keys, ofCap(row.id), sealedCap).amountMinor }
}

export function findEitherOr(sight: Sight, id: string): EitherOrRow | null {
  const found = store.findEitherOr(sight.db, id)
  return found ? opened(sight, found) : null
}
export const listEitherOrsOf = (sight: Sight, personId: string): EitherOrRow[] =>
  store.listEitherOrsOf(sight.db, personId).map((row) => opened(sight, row))

/** The lots of an either-or in their order. */
export const listLinks = (sight: Sight, eitherOr: string): LinkRow[] =>
  store.listLinks(sight.db, eitherOr).map(({ sealed, ...row }) => {
    const { number } = getLotRowById(sight, row.lotId)
    return { ...row, lot: number, maximumMinor: openFigure(sight.keys, ofLink(eitherOr, row.place, number), sealed).amountMinor }
  })

type NewLink = Pick<LinkRow, 'lotId' | 'lot' | 'maximumMinor'>
export function insertEitherOr(turn: Turn, { capMinor, ...row }: EitherOrRow, links: readonly NewLink[]): void {
  const sealedCap = capMinor === null ? null : sealFigure(turn.keys, ofCap(row.id), capMinor)
  const sealedLinks = links.map(({ lotId, lot, maximumMinor }, index) => {
    return { lotId, sealed: sealFigure(turn.keys, ofLink(row.id, index + 1, lot), maximumMinor) }
  })
  store.insertEitherOr(turn.db, { ...row, sealedCap }, sealedLinks)
}

export const changeMaximum = (
  { db, keys }: Turn,
  eitherOr: string,
  { place, lot }: { place: number; lot: number },
  maximumMinor: Minor,
): void => store.changeLink(db, eitherOr, place, { sealed: sealFigure(keys, ofLink(eitherOr, place, lot), maximumMinor) })

/** True when a lot stands in an either-or of this person that is still in play there. */
export const isInEitherOr = (sight: Sight, personId: string, lotId: string): boolean =>
  store.listInPlay(sight.db, lotId).some((link) => link.personId === personId)

/** A lot has ended: whoever had a maximum there by an either-or has won or lost it, and what comes next wakes at that instant. */
export function advanceEitherOrsAfterEnd(turn: Turn, row: LotRow, at: Instant): void {
  const inPlay = store.listInPlay(turn.db, row.id)
  for (const { chainId, place, phase, personId } of inPlay) {
    if (phase !== 'awake') continue
    if (row.state === 'sold' && row.winnerPersonId === personId)
      store.changeLink(turn.db, chainId, place, { phase: 'won', hammerMinor: row.hammerMinor ?? 0 })
    else store.changeLink(turn.db, chainId, place, { phase: 'lost' })
  }
  for (const { chainId } of inPlay) advanceEitherOr(turn, chainId, { at, why: 'ended' })
}

/** The clock of a lot goes on: what was due to wake there while it stood wakes now. */
export function advanceEitherOrsOnLot(turn: Turn, row: Pick<LotRow, 'id'>): void {
  for (const { chainId } of store.listInPlay(turn.db, row.id)) advanceEitherOr(turn, chainId, { at: turn.now, why: 'went-on' })
}

/** When an either-or goes on, and because of what. */
interface Moment {
  at: Instant
  why: WhyWoken
}

/** Takes every step of an either-or that is due; the bids that it placed. */
export function advanceEitherOr(turn: Turn, chainId: string, moment: Moment): BidAnswer[] {
  const { at } = moment
  const row = findEitherOr(turn, chainId)
  if (!row) throw new Refusal('not-found', 'There is no such either-or.')
  const bids: BidAnswer[] = []
  for (;;) {
    const step = nextStep(readEitherOr(turn, row), (lot) => readLotNow(turn, lot), at)
    if (!step) return bids
    const why = step.kind === 'lapse' ? step.why : wake(turn, row, step.place, moment, bids)
    if (why === null) continue
    store.changeLink(turn.db, chainId, step.place, { phase: 'lapsed', why: why.slice(0, 300) })
    if (at > row.at) tellOfLapse(turn, getLotRowById(turn, linkAt(turn, row, step.place).lotId), row.personId, why)
  }
}

/** A maximum becomes a bid, with the instant that woke it as its arrival; why not, in words, or null when it was taken. */
function wake(turn: Turn, { id, personId, at: madeAt }: EitherOrRow, place: number, { at, why }: Moment, bids: BidAnswer[]): string | null {
  const { lotId, maximumMinor } = linkAt(turn, { id }, place)
  const lot = getLotRowById(turn, lotId)
  const role = findPerson(turn, personId)?.role ?? 'bidder'
  const said = isLeader(lot, personId) ? findLastBid(turn, lotId, personId) : null
  if (said?.maximumMinor === maximumMinor) {
    // It began with a lot where this very bid stands already.
    store.wakeLink(turn.db, id, place, at)
    return null
  }
  try {
    const answer = takeBid(turn, { personId, role }, { lot: lot.number, key: `chain-${turn.dice.id()}`, maximumMinor, at })
    store.wakeLink(turn.db, id, place, at)
    bids.push(answer)
    if (at > madeAt) tellOfWake(turn, lot, personId, { maximumMinor, why })
    return null
  } catch (reason) {
    if (reason instanceof Refusal) return reason.message
    throw reason
  }
}

const linkAt = (turn: Turn, { id }: { id: string }, place: number): LinkRow => {
  const link = listLinks(turn, id).find((one) => one.place === place)
  if (!link) throw new Refusal('not-found', 'There is no such place in this either-or.')
  return link
}

/** An either-or as its rules see it. */
export function readEitherOr(sight: Sight, { id, mostWins, capMinor }: EitherOrRow): EitherOr {
  const links = listLinks(sight, id).map(({ place, lot, maximumMinor, phase, hammerMinor }) => ({
    place,
    lot,
    maximumMinor,
    phase,
    hammerMinor,
  }))
  return { mostWins, capMinor, links }
}

/** What an either-or has to know of a lot, as it is at this instant. */
export function readLotNow(sight: Sight, number: number): LotNow {
  const row = getLotRow(sight, number)
  const { closesAt, standingMinor, terms, state } = row
  const phase = state === 'draft' ? 'ready' : state
  return {
    phase,
    closesAt,
    leastNextMinor: terms && leastNext(terms, standingMinor),
    currency: terms?.currency ?? getCampaign(sight).currency,
  }
}
