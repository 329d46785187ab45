import { invariant } from '#kernel/invariant'
import { type Currency, type Minor, parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findBiddingPaddle } from '#people/people/people.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { whyBarred } from '../bidders/may-bid.service'
import { findLastBid } from '../bids/bids.service'
import { loadOpenedLot } from '../bids/lot-state.service'
import { takeBid } from '../bids/take-bid.service'
import { getLotRowById, isLeader, type LotRow, listRunningRows } from '../lots/lots.service'
import type { LotPrices } from '../price/slip.rules'
import type { ChangeLinkIn, EitherOrAnswer, EitherOrLot, MakeEitherOrIn, MyEitherOr } from './either-or.contract'
import { mostOfEitherOr, warningsOf } from './either-or.rules'
import {
  advanceEitherOr,
  changeMaximum,
  type EitherOrRow,
  findEitherOr,
  insertEitherOr,
  isInEitherOr,
  listEitherOrsOf,
  readEitherOr,
  readLotNow,
} from './either-or.service'
import * as store from './either-or.store'

const MOST_EITHER_ORS = 8

/** Makes an either-or. As many of its maxima as may be won stand at once, in order; the others wait for one of them to be lost. */
export function makeEitherOr(turn: Turn, actor: Actor, input: MakeEitherOrIn): EitherOrAnswer {
  return once(turn, input.key, { ...input, by: actor.personId }, () => {
    const { currency } = getCampaign(turn)
    const { mostWins } = input
    if (mostWins > input.links.length) throw Refusal.at('mostWins', `You list ${input.links.length} lots, so choose that many at most.`)
    const capMinor = input.cap.trim() === '' ? null : parseMoney(input.cap, currency, 'cap')
    const links = input.links.map((link, index) => readLink(turn, actor, link, { index, currency, capMinor, links: input.links }))
    if (listOpen(turn, actor.personId).length >= MOST_EITHER_ORS)
      throw new Refusal('too-many', `You have ${MOST_EITHER_ORS} either-ors under way. First withdraw one.`)
    const id = turn.dice.id()
    insertEitherOr(turn, { id, personId: actor.personId, mostWins, capMinor, at: turn.now }, links)
    turn.record({ kind: 'chain.made', subject: 'chains', body: { lots: links.length } })
    const placed = advanceEitherOr(turn, id, { at: turn.now, why: 'changed' })
    return { eitherOr: getMine(turn, actor, id), bids: placed }
  })
}

interface Beside {
  index: number
  currency: Currency
  capMinor: Minor | null
  links: readonly { lot: number }[]
}

function readLink(
  turn: Turn,
  actor: Actor,
  { lot, maximum }: { lot: number; maximum: string },
  { index, currency, capMinor, links }: Beside,
) {
  const at = (name: 'lot' | 'maximum') => `links.${index}.${name}`
  if (links.slice(0, index).some((one) => one.lot === lot)) throw Refusal.at(at('lot'), `Lot ${lot} is already listed above.`)
  const { row, state } = loadOpenedLot(turn, lot)
  if (state.phase !== 'open' && state.phase !== 'held') throw Refusal.at(at('lot'), `Lot ${lot} is not open.`, 'conflict')
  const paddle = findBiddingPaddle(turn, actor.personId)
  const barred = whyBarred(turn, actor, row, paddle?.country ?? null)
  if (barred) throw Refusal.at(at('lot'), `Lot ${lot}: ${barred}`, 'not-yours-to-do')
  if (isInEitherOr(turn, actor.personId, row.id))
    throw Refusal.at(at('lot'), `Lot ${lot} is already in another of your either-ors.`, 'conflict')
  const said = findLastBid(turn, row.id, actor.personId)
  if (said && index > 0)
    throw Refusal.at(
      at('lot'),
      `You have bid on lot ${lot} already, and a bid cannot be withdrawn. Put it first, or leave it out.`,
      'conflict',
    )
  const maximumMinor = parseMoney(maximum, currency, at('maximum'))
  checkMaximum(maximumMinor, { field: at('maximum'), currency, capMinor, ceilingMinor: paddle?.ceilingMinor ?? 0 })
  const ownMinor = said && isLeader(row, actor.personId) ? said.maximumMinor : null
  if (ownMinor !== null && maximumMinor < ownMinor)
    throw Refusal.at(
      at('maximum'),
      `You lead lot ${lot} and allow up to ${showMoney(ownMinor, currency)}. Write that or more: a maximum is never lowered.`,
    )
  const { leastNextMinor } = readLotNow(turn, lot)
  if (ownMinor === null && leastNextMinor !== null && maximumMinor < leastNextMinor)
    throw Refusal.at(at('maximum'), `Lot ${lot} needs at least ${showMoney(leastNextMinor, currency)}.`)
  return { lotId: row.id, lot, maximumMinor }
}

interface Bounds {
  field: string
  currency: Currency
  capMinor: Minor | null
  ceilingMinor: Minor
}

function checkMaximum(maximumMinor: Minor, { field, currency, capMinor, ceilingMinor }: Bounds): void {
  const show = (amount: Minor) => showMoney(amount, currency)
  if (maximumMinor <= 0) throw Refusal.at(field, 'Write an amount above zero.')
  if (maximumMinor > ceilingMinor) throw Refusal.at(field, `Your paddle may bid up to ${show(ceilingMinor)}. Ask us to raise it.`)
  if (capMinor !== null && maximumMinor > capMinor)
    throw Refusal.at(field, `That is more than your cap of ${show(capMinor)}, so it could never count.`)
}

/** Another maximum for one lot of an either-or: any while it waits, only a higher one once it stands. */
export function changeLink(turn: Turn, actor: Actor, input: ChangeLinkIn): EitherOrAnswer {
  return once(turn, input.key, { ...input, by: actor.personId }, () => {
    const row = getRow(turn, actor, input.eitherOr)
    const { currency } = getCampaign(turn)
    const maximumMinor = parseMoney(input.maximum, currency, 'maximum')
    const eitherOr = readEitherOr(turn, row)
    const link = eitherOr.links.find(({ lot }) => lot === input.lot)
    if (!link || (link.phase !== 'waiting' && link.phase !== 'awake'))
      throw Refusal.at('maximum', 'That lot of the either-or is already settled.', 'conflict')
    const ceilingMinor = findBiddingPaddle(turn, actor.personId)?.ceilingMinor ?? 0
    checkMaximum(maximumMinor, { field: 'maximum', currency, capMinor: row.capMinor, ceilingMinor })
    const others = eitherOr.links.filter(({ place, phase }) => place !== link.place && (phase === 'won' || phase === 'awake'))
    const bound = others.reduce((sum, one) => sum + (one.hammerMinor ?? one.maximumMinor), 0)
    if (link.phase === 'awake' && row.capMinor !== null && bound + maximumMinor > row.capMinor)
      throw Refusal.at('maximum', `Your cap of ${showMoney(row.capMinor, currency)} could be passed by that.`)
    const placed = link.phase === 'awake' ? [takeBid(turn, actor, { lot: link.lot, key: `chain-${turn.dice.id()}`, maximumMinor })] : []
    changeMaximum(turn, row.id, link, maximumMinor)
    return { eitherOr: getMine(turn, actor, row.id), bids: [...placed, ...advanceEitherOr(turn, row.id, { at: turn.now, why: 'changed' })] }
  })
}

/** What waits is taken back, since it was never a bid; what stands stays, since a bid is not taken back. */
export function dropEitherOr(turn: Turn, actor: Actor, input: { eitherOr: string }): MyEitherOr {
  const row = getRow(turn, actor, input.eitherOr)
  store.lapseWaiting(turn.db, row.id, 'You withdrew it.')
  return getMine(turn, actor, row.id)
}

export const listMyEitherOrs = (sight: Sight, actor: Actor): MyEitherOr[] =>
  listEitherOrsOf(sight, actor.personId)
    .map((row) => viewOf(sight, actor, row))
    .reverse()

/** The lots that may stand in a new either-or of this person, in the order in which they close. */
export const listEitherOrLots = (sight: Sight, actor: Actor): EitherOrLot[] =>
  listRunningRows(sight).flatMap((row) => {
    if (
      isInEitherOr(sight, actor.personId, row.id) ||
      whyBarred(sight, actor, row, findBiddingPaddle(sight, actor.personId)?.country ?? null)
    )
      return []
    const { leastNextMinor, closesAt } = readLotNow(sight, row.number)
    const said = findLastBid(sight, row.id, actor.personId)
    const ownMinor = said && isLeader(row, actor.personId) ? said.maximumMinor : null
    const { number } = row
    const title = row.terms?.sale.title ?? row.title
    return [{ number, title, closesAt, leastNextMinor, hasBid: said !== null, ownMinor, ...pricesOf(row) }]
  })

const pricesOf = ({ standingMinor, terms, openingMinor, highMinor }: LotRow): LotPrices => ({
  standingMinor,
  openingMinor: terms?.openingMinor ?? openingMinor,
  highMinor,
})

const listOpen = (sight: Sight, personId: string): EitherOrRow[] =>
  listEitherOrsOf(sight, personId).filter(({ id }) => store.listLinks(sight.db, id).some(({ phase }) => isInPlay(phase)))

const isInPlay = (phase: string): boolean => phase === 'waiting' || phase === 'awake'

function getRow(sight: Sight, actor: Actor, id: string): EitherOrRow {
  const row = findEitherOr(sight, id)
  if (row?.personId !== actor.personId) throw new Refusal('not-found', 'You have no such either-or.')
  return row
}

const getMine = (sight: Sight, actor: Actor, id: string): MyEitherOr => viewOf(sight, actor, getRow(sight, actor, id))

function viewOf(sight: Sight, actor: Actor, row: EitherOrRow): MyEitherOr {
  const eitherOr = readEitherOr(sight, row)
  const rows = store.listLinks(sight.db, row.id)
  const links = eitherOr.links.map((link) => {
    const own = rows.find(({ place }) => place === link.place)
    invariant(own, 'a link has its row')
    const lot = getLotRowById(sight, own.lotId)
    const { closesAt, leastNextMinor } = readLotNow(sight, link.lot)
    const leads = link.phase === 'awake' && isLeader(lot, actor.personId)
    return { ...link, title: lot.terms?.sale.title ?? lot.title, why: own.why, leads, closesAt, leastNextMinor, ...pricesOf(lot) }
  })
  return {
    id: row.id,
    currency: getCampaign(sight).currency,
    mostWins: row.mostWins,
    capMinor: row.capMinor,
    links,
    warnings: warningsOf(eitherOr, (lot) => readLotNow(sight, lot)),
    mostMinor: mostOfEitherOr(eitherOr),
    isOver: !links.some(({ phase }) => isInPlay(phase)),
  }
}
