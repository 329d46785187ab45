import { bytesToHex } from '@noble/hashes/utils.js'
import { certificateGap } from '#bench/certificates/gap.service'
import { findUnitByTag, listRoster } from '#bench/units/roster.service'
import { type Minor, parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { isHttpsAddress } from '#kernel/text'
import { getCampaign, getRunning } from '#people/campaign/campaign.service'
import { campaignNumber, inCampaign, inEveryCampaign } from '#people/campaign/which.service'
import { changedLines } from '#people/changes/changes.rules'
import { noteChange } from '#people/changes/changes.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { findStandingPrice, whyKept } from '../fixed-price/shown-price.service'
import { fellThrough } from '../price/result.rules'
import { lotGate, type Missing } from './gate.rules'
import type { AddPhotographIn, AfterwardsIn, LotCard, LotPhotograph, LotState, SaveLotIn, SavePostageIn, StartLotIn } from './lots.contract'
import { getLotRow, getPostage, type LotRow, listLots, listReadyRows } from './lots.service'
import * as store from './lots.store'
import { EVERYWHERE_ELSE, readCountries, showCountries } from './postage.rules'
import { ofReserve, sealFigure } from './sealed-figures'

/** Makes the draft of a lot out of a unit, numbered after the last. */
export function startLot(turn: Turn, _actor: Actor, input: StartLotIn): { number: number } {
  // Prices are named in its currency, so there is no lot before it.
  getRunning(turn, 'unit')
  const unit = findUnitByTag(turn, input.unit.toUpperCase())
  if (!unit) throw Refusal.at('unit', `There is no unit ${input.unit}.`, 'not-found')
  const before = store.findByUnit(turn.db, unit.id)
  const kept = before && whyKept(turn, before)
  if (kept) throw Refusal.at('unit', kept, 'conflict')
  if (before && !isFree(before)) {
    throw Refusal.at('unit', `${unit.tag} is lot ${before.number} already.`, 'conflict')
  }
  const number = store.highestNumber(turn.db) + 1
  store.insertLot(turn.db, { id: turn.dice.id(), number, unitId: unit.id, unitTag: unit.tag, campaignNumber: campaignNumber(turn) })
  turn.record({ kind: 'lot.started', subject: `lot:${number}`, body: { number, unit: unit.tag } })
  return { number }
}

/** Nobody has the machine of this lot, so it can be in another: it ended without a sale, or its sale fell through. */
const isFree = ({ state, standsMinor }: { state: LotState; standsMinor?: Minor | null | undefined }): boolean =>
  ((state === 'unsold' || state === 'withdrawn') && !standsMinor) || (state === 'sold' && fellThrough({ standsMinor }))

/** Tags of the units that are in no lot which may still be sold. */
export function listStartable(sight: Sight): string[] {
  const isTaken = (lot: LotCard) => !isFree(lot) || whyKept(sight, { ...lot, unitTag: lot.unit }) !== null
  const taken = new Set(inEveryCampaign(sight, listLots).flatMap((lot) => (isTaken(lot) ? [lot.unitId] : [])))
  return listRoster(sight).flatMap(({ id, tag }) => (taken.has(id) ? [] : [tag]))
}

/** What becomes of a machine that nobody bought in the end, as anybody may read it. Put into a new lot, it is for sale again. */
export function sayAfterwards(turn: Turn, _actor: Actor, { lot, as }: AfterwardsIn): void {
  const row = getLotRow(turn, lot)
  if (!isFree(row)) throw Refusal.at('lot', `Lot ${lot} is not over, or its sale stands.`, 'conflict')
  if (findStandingPrice(turn, row.id))
    throw Refusal.at('lot', `Lot ${lot} can still be had at a fixed price. Take that back first.`, 'conflict')
  const later = store.findByUnit(turn.db, row.unitId)
  if (later && later.id !== row.id) throw Refusal.at('lot', `${row.unitTag} is in lot ${later.number} now. Say it there.`, 'conflict')
  store.updateLot(turn.db, row.id, { afterwards: as })
  touched(turn, row)
}

/** Saves what a lot says of itself. Terms are fixed at the opening, so an open lot is refused here. */
export function saveLot(turn: Turn, actor: Actor, input: SaveLotIn): void {
  const row = getUnopened(turn, input.lot)
  const { currency } = getCampaign(turn)
  const money = (text: string, field: string): Minor | null => (text === '' ? null : aboveNought(parseMoney(text, currency, field), field))
  const openingMinor = money(input.opening, 'opening')
  const reserveMinor = input.reserveKind === 'amount' ? aboveNought(parseMoney(input.reserve, currency, 'reserve'), 'reserve') : null
  if (reserveMinor !== null && openingMinor !== null && reserveMinor < openingMinor) {
    throw Refusal.at('reserve', 'A reserve below the opening price changes nothing. Raise it, or choose none.')
  }
  const [lowMinor, likelyMinor, highMinor] = [money(input.low, 'low'), money(input.likely, 'likely'), money(input.high, 'high')]
  if (lowMinor !== null && likelyMinor !== null && likelyMinor < lowMinor)
    throw Refusal.at('likely', 'The likely estimate must be at least the low one.')
  if (highMinor !== null && (likelyMinor ?? lowMinor ?? 0) > highMinor)
    throw Refusal.at('high', 'The high estimate must be at least the likely one.')
  if (input.soldWhere === 'elsewhere' && !isHttpsAddress(input.elsewhereUrl)) {
    throw Refusal.at('elsewhereUrl', 'Give the address at which it is sold, beginning with https://.')
  }
  const extras = input.extras
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean)
  if (extras.some((line) => line.length > 200)) throw Refusal.at('extras', 'Use at most 200 characters for each extra, one per line.')
  const { title, story, weightGrams, lengthMm, widthMm, heightMm, soldWhere } = input
  store.updateLot(turn.db, row.id, {
    title,
    story,
    openingMinor,
    reserveDecided: input.reserveKind !== 'undecided',
    sealedReserve: reserveMinor === null ? null : sealReserve(turn, row.number, reserveMinor),
    lowMinor,
    likelyMinor,
    highMinor,
    weightGrams,
    lengthMm,
    widthMm,
    heightMm,
    soldWhere,
    elsewhereUrl: soldWhere === 'elsewhere' ? input.elsewhereUrl : null,
    pricedByPersonId: actor.personId,
  })
  store.replaceExtras(turn.db, row.id, extras)
  touched(turn, row)
}

/** Together with the random bytes that keep it from being guessed out of its commitment, which is public from the opening on. */
const sealReserve = ({ keys, dice }: Turn, number: number, amountMinor: Minor): string =>
  sealFigure(keys, ofReserve(number), amountMinor, bytesToHex(dice.bytes(32)))

export function savePostage(turn: Turn, by: Actor, input: SavePostageIn): void {
  const row = getUnopened(turn, input.lot)
  const { currency } = getCampaign(turn)
  const filled = input.rows.map((one, index) => ({ ...one, index })).filter(({ zone, countries, amount }) => zone || countries || amount)
  const rows = filled.map(({ zone, countries, amount, index }) => {
    if (zone === '') throw Refusal.at(`rows.${index}.zone`, 'Name the line, such as "Europe, tracked".')
    const codes = readCountries(countries, `rows.${index}.countries`)
    return { zone, countries: codes, amountMinor: parseMoney(amount, currency, `rows.${index}.amount`), index }
  })
  for (const [place, { countries, index }] of rows.entries()) {
    const twice = countries.find((code) => rows.slice(0, place).some((earlier) => earlier.countries.includes(code)))
    const name = twice === EVERYWHERE_ELSE ? 'Everywhere else' : twice
    if (twice) throw Refusal.at(`rows.${index}.countries`, `${name} is already in a line above.`)
  }
  const lineOf = ({ zone, countries, amountMinor }: { zone: string; countries: readonly string[]; amountMinor: number }) =>
    `${zone} ${showMoney(amountMinor, currency)} (${showCountries(countries)})`
  const changed = changedLines(getPostage(turn, row.id).map(lineOf), rows.map(lineOf))
  store.replacePostage(
    turn.db,
    row.id,
    rows.map(({ zone, countries, amountMinor }) => ({ zone, countries, amountMinor })),
  )
  if (changed.before !== '' || changed.after !== '')
    noteChange(turn, by, { kind: 'postage', what: `the postage of lot ${row.number}`, ...changed })
  touched(turn, row)
}

export function addPhotograph(turn: Turn, { lot, sha, caption }: AddPhotographIn): void {
  const row = getUnopened(turn, lot)
  if (store.listPhotographs(turn.db, row.id).length >= 12)
    throw Refusal.at('photograph', 'Twelve photographs are enough. Remove one first.', 'too-many')
  if (!store.isPhotographKept(turn.db, sha)) throw Refusal.at('photograph', 'Add the photograph again: it has not arrived.', 'not-found')
  store.insertPhotograph(turn.db, row.id, { sha, caption })
  touched(turn, row)
}

export function removePhotograph(turn: Turn, { lot, seq }: { lot: number; seq: number }): void {
  const row = getUnopened(turn, lot)
  if (store.deletePhotograph(turn.db, row.id, seq) === 0)
    throw Refusal.at('photograph', 'That photograph has already been removed.', 'not-found')
  touched(turn, row)
}

/** Shows a draft to everybody, before bidding begins; its terms may still change until it opens. */
export function publishLot(turn: Turn, number: number): void {
  const row = getLotRow(turn, number)
  if (row.state !== 'draft') throw new Refusal('conflict', 'This lot is already shown.')
  if (row.title === '' || row.story === '') throw Refusal.at('title', 'Give it a title and a story before it is shown.')
  store.updateLot(turn.db, row.id, { state: 'ready' })
  turn.record({ kind: 'lot.listed', subject: `lot:${number}`, body: { number, unit: row.unitTag, title: row.title } })
}

/** All that keeps a lot from opening now. */
export function gateOf(sight: Sight, row: LotRow): Missing[] {
  const { causeName, sellerName, sellerKind, cancelWords } = getCampaign(sight)
  return lotGate({
    number: row.number,
    unitTag: row.unitTag,
    now: sight.now,
    certificateGap: certificateGap(sight, row),
    photographs: store.listPhotographs(sight.db, row.id).length,
    title: row.title,
    story: row.story,
    openingMinor: row.openingMinor,
    isReserveDecided: row.reserveDecided,
    causeName,
    sellerName,
    sellerKind,
    cancelWords,
    postageLines: store.listPostage(sight.db, row.id).length,
    weightGrams: row.weightGrams,
    isSizeKnown: row.lengthMm !== null && row.widthMm !== null && row.heightMm !== null,
    closesAt: row.closesAt,
    soldWhere: row.soldWhere,
    elsewhereUrl: row.elsewhereUrl,
  })
}

/** What keeps each lot that is not open yet from opening, by its number. */
export const listGates = (sight: Sight): { lot: number; missing: Missing[] }[] =>
  listReadyRows(sight).map((row) => ({ lot: row.number, missing: gateOf(sight, row) }))

export interface Prepared {
  card: LotCard
  row: Pick<
    LotRow,
    | 'title'
    | 'story'
    | 'openingMinor'
    | 'reserveDecided'
    | 'lowMinor'
    | 'likelyMinor'
    | 'highMinor'
    | 'weightGrams'
    | 'lengthMm'
    | 'widthMm'
    | 'heightMm'
    | 'soldWhere'
    | 'elsewhereUrl'
  > & { reserveMinor: Minor | null }
  extras: string[]
  photographs: ({ seq: number } & LotPhotograph)[]
  postage: ReturnType<typeof store.listPostage>
  missing: Missing[]
}

/** A lot with everything that was prepared and everything that is missing, for the maker. */
export function readPrepared(sight: Sight, number: number): Prepared {
  const { title, story, openingMinor, reserveDecided, reserve, lowMinor, likelyMinor, highMinor, ...row } = getLotRow(sight, number)
  const { weightGrams, lengthMm, widthMm, heightMm, soldWhere, elsewhereUrl, id } = row
  const card = listLots(inCampaign(sight, row.campaignNumber)).find((one) => one.number === number)
  if (!card) throw new Refusal('not-found', `There is no lot ${number}.`)
  return {
    card,
    row: {
      title,
      story,
      openingMinor,
      reserveDecided,
      reserveMinor: reserve?.amountMinor ?? null,
      lowMinor,
      likelyMinor,
      highMinor,
      weightGrams,
      lengthMm,
      widthMm,
      heightMm,
      soldWhere,
      elsewhereUrl,
    },
    extras: store.listExtras(sight.db, id).map(({ words }) => words),
    photographs: store.listPhotographs(sight.db, id),
    postage: store.listPostage(sight.db, id),
    missing: gateOf(sight, getLotRow(sight, number)),
  }
}

/** A lot whose terms are not fixed yet. */
export function getUnopened(turn: Turn, number: number): LotRow {
  const row = getLotRow(turn, number)
  if (row.state === 'draft' || row.state === 'ready') return row
  throw new Refusal('conflict', 'Its terms were fixed when it opened. Write a correction instead; its bidders are told.')
}

export const touched = (turn: Turn, row: Pick<LotRow, 'number' | 'unitTag'>): void =>
  turn.record({ kind: 'lot.prepared', subject: `lot:${row.number}`, body: { number: row.number, unit: row.unitTag } })

function aboveNought(amount: Minor, field: string): Minor {
  if (amount === 0) throw Refusal.at(field, 'Write an amount above zero.')
  return amount
}

/** Lots that were never open go along into the campaign of this number, as drafts without a time. */
export function takeAlong(turn: Turn, going: readonly LotRow[], campaignNumber: number): void {
  for (const row of going) {
    store.updateLot(turn.db, row.id, { campaignNumber, state: 'draft', closesAt: null })
    touched(turn, row)
  }
}
