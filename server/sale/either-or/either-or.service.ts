import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { BidAnswer } from '../bids/bids.contract'
import { takeBid } from '../bids/take-bid.service'
import { tellOfLapse, tellOfWake } from '../letters/letters.service'
import { getLotRow, getLotRowById, type LotRow } from '../lots/lots.service'
import { leastNext } from '../price/price.rules'
import { type EitherOr, type LotNow, nextStep } from './either-or.rules'
import * as store from './either-or.store'

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
  for (const { chainId } of inPlay) advanceEitherOr(turn, chainId, at)
}

/** The clock of a lot goes on: what was due to wake there while it stood wakes now. */
export function advanceEitherOrsOnLot(turn: Turn, row: Pick<LotRow, 'id'>): void {
  for (const { chainId } of store.listInPlay(turn.db, row.id)) advanceEitherOr(turn, chainId, turn.now)
}

/** Takes every step of an either-or that is due; the bids that it placed. */
export function advanceEitherOr(turn: Turn, chainId: string, at: Instant): BidAnswer[] {
  const row = store.findEitherOr(turn.db, chainId)
  if (!row) throw new Refusal('not-found', 'There is no such either-or.')
  const bids: BidAnswer[] = []
  for (;;) {
    const step = nextStep(readEitherOr(turn, row), (lot) => readLotNow(turn, lot), at)
    if (!step) return bids
    const why = step.kind === 'lapse' ? step.why : wake(turn, row, step.place, at, bids)
    if (why === null) continue
    store.changeLink(turn.db, chainId, step.place, { phase: 'lapsed', why: why.slice(0, 300) })
    if (at > row.at) tellOfLapse(turn, getLotRowById(turn, linkAt(turn, row, step.place).lotId), row.personId, why)
  }
}

/** A maximum becomes a bid, with the instant that woke it as its arrival; why not, in words, or null when it was taken. */
function wake(turn: Turn, { id, personId, at: madeAt }: store.EitherOrRow, place: number, at: Instant, bids: BidAnswer[]): string | null {
  const { lotId, maximumMinor } = linkAt(turn, { id }, place)
  const lot = getLotRowById(turn, lotId)
  const role = findPerson(turn, personId)?.role ?? 'bidder'
  try {
    const answer = takeBid(turn, { personId, role }, { lot: lot.number, key: `chain-${turn.dice.id()}`, maximumMinor, at })
    store.wakeLink(turn.db, id, place, at)
    bids.push(answer)
    if (at > madeAt) tellOfWake(turn, lot, personId, answer)
    return null
  } catch (reason) {
    if (reason instanceof Refusal) return reason.message
    throw reason
  }
}

const linkAt = (turn: Turn, { id }: { id: string }, place: number): store.LinkRow => {
  const link = store.listLinks(turn.db, id).find((one) => one.place === place)
  if (!link) throw new Refusal('not-found', 'There is no such place in this either-or.')
  return link
}

/** An either-or as its rules see it. */
export function readEitherOr(sight: Sight, { id, mostWins, capMinor }: store.EitherOrRow): EitherOr {
  const links = store.listLinks(sight.db, id).map(({ place, lotId, maximumMinor, phase, hammerMinor }) => ({
    place,
    lot: getLotRowById(sight, lotId).number,
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
