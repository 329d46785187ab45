import { type Instant, SECOND } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Campaign } from '#people/campaign/campaign.contract'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber, inCampaign } from '#people/campaign/which.service'
import type { Sealing } from '#runtime/queue/sealing'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { FixedPrice } from '../fixed-price/fixed-price.contract'
import { fixedPriceOf, fixedPrices } from '../fixed-price/shown-price.service'
import { defaultLadder, type Ladder } from '../price/ladder.rules'
import { type LateBid, lateBidOf } from '../price/late-bid.rules'
import { leastNext, reserveAt } from '../price/price.rules'
import type { LotCard, LotPhotograph, LotState } from './lots.contract'
import * as store from './lots.store'
import { postageTo } from './postage.rules'
import { type Figure, ofReserve, openFigure } from './sealed-figures'

/** A lot with its reserve opened. */
export interface LotRow extends Omit<store.StoredLot, 'sealedReserve'> {
  /** With the random bytes behind its commitment; null where there is none. */
  reserve: Figure | null
}

/** Reserves that were opened, by their seals: lots are read far more often than a reserve is set. */
const opened = new WeakMap<Sealing, Map<string, Figure>>()

function reserveOfLot({ keys }: Sight, { number, sealedReserve }: store.StoredLot): Figure | null {
  if (sealedReserve === null) return null
  const known = opened.get(keys) ?? new Map<string, Figure>()
  opened.set(keys, known)
  const name = `${number} ${sealedReserve}`
  const reserve = known.get(name) ?? openFigure(keys, ofReserve(number), sealedReserve)
  known.set(name, reserve)
  return reserve
}

function rowOf(sight: Sight, stored: store.StoredLot): LotRow {
  const { sealedReserve: _sealed, ...row } = stored
  return { ...row, reserve: reserveOfLot(sight, stored) }
}

/** Every lot of the campaign, drafts too, by number. */
export function listLots(sight: Sight): LotCard[] {
  const photographs = store.firstPhotographs(sight.db)
  const before = beforeTerms(sight)
  const fixed = fixedPrices(sight)
  return store
    .listAll(sight.db, campaignNumber(sight))
    .map((row) => cardOf(sight, row, { ...before(row), fixedPrice: fixed(row) }, photographs.get(row.id) ?? null))
}

/** The lots that anybody may see, in the order in which they close. */
export const listPublicLots = (sight: Sight): LotCard[] =>
  listLots(sight)
    .filter(({ state }) => state !== 'draft')
    .sort((a, b) => (a.closesAt ?? Number.POSITIVE_INFINITY) - (b.closesAt ?? Number.POSITIVE_INFINITY) || a.number - b.number)

export function findLot(sight: Sight, number: number): LotCard | null {
  const row = store.findByNumber(sight.db, number)
  return row ? cardOf(sight, row, settledOf(sight, row), store.listPhotographs(sight.db, row.id)[0] ?? null) : null
}

/** A lot that anybody may see, by its number as it stands in an address; null when there is none, or a draft still. */
export function findShownLot(sight: Sight, written: string): LotCard | null {
  const lot = /^[1-9]\d{0,8}$/.test(written) ? findLot(sight, Number(written)) : null
  return lot && lot.state !== 'draft' ? lot : null
}

/** The lot in which a unit is or was sold last; null before there is one. */
export function findLotOfUnit(sight: Sight, unitId: string): LotCard | null {
  const row = store.findByUnit(sight.db, unitId)
  return row ? cardOf(sight, row, settledOf(sight, row), null) : null
}

/** The same without its photographs, for what is sent at every bid. */
export function findBareLot(sight: Sight, number: number): LotCard | null {
  const row = store.findByNumber(sight.db, number)
  return row ? cardOf(sight, row, settledOf(sight, row), null) : null
}

export function getLotRow(sight: Sight, number: number): LotRow {
  const row = store.findByNumber(sight.db, number)
  if (!row) throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  return rowOf(sight, row)
}

export const getLotRowById = (sight: Sight, id: string): LotRow => {
  const row = store.findById(sight.db, id)
  if (!row) throw new Refusal('not-found', 'There is no such lot.')
  return rowOf(sight, row)
}

/** Lots that are sold here and not over yet, earliest closing first. */
export const listRunningRows = (sight: Sight): LotRow[] =>
  listRowsIn(sight, ['open', 'held']).filter(({ soldWhere }) => soldWhere === 'here')

export const listReadyRows = (sight: Sight): LotRow[] => listRowsIn(sight, ['draft', 'ready'])

const listRowsIn = (sight: Sight, states: LotState[]): LotRow[] => store.listInStates(sight.db, states).map((row) => rowOf(sight, row))

/** Whether a person leads on a lot, or led when it ended. */
export const isLeader = (row: Pick<LotRow, 'leaderPersonId'>, personId: string): boolean => row.leaderPersonId === personId

/** The lot that closes first, and when; null when none runs. */
export const findNextToClose = (sight: Sight): { number: number; closesAt: Instant } | null => store.nextDue(sight.db) ?? null
/** The number of the campaign that a lot belongs to; null where there is no such lot. */
export const campaignOfLot = ({ db }: Pick<Sight, 'db'>, number: number): number | null => store.campaignOf(db, number)
export const findHead = (sight: Sight, number: number): string | null => store.headOf(sight.db, number)

export const getPhotographs = (sight: Sight, lotId: string): LotPhotograph[] => store.listPhotographs(sight.db, lotId).map(pictureOf)
export const getExtras = (sight: Sight, lotId: string): string[] => store.listExtras(sight.db, lotId).map(({ words }) => words)
/** What goes with a lot, by its terms once it is open. */
export const extrasOf = (sight: Sight, row: LotRow): string[] => row.terms?.sale.extras ?? getExtras(sight, row.id)
export const getPostage = (sight: Sight, lotId: string) => store.listPostage(sight.db, lotId)

/** What a lot costs to send, by its terms once it is open. */
export const postageTable = (sight: Sight, row: LotRow) => row.terms?.sale.postage ?? store.listPostage(sight.db, row.id)

/** What it costs to send a lot to a country, by its terms once it is open; null when it is not sent there. */
export const postageOf = (sight: Sight, row: LotRow, country: string): Minor | null =>
  postageTo(postageTable(sight, row), country)?.amountMinor ?? null

/** What the rooms next door keep on a lot; they have decided, here it is written. */
export const changeLot = (turn: Turn, id: string, change: Partial<Omit<store.StoredLot, 'sealedReserve'>>): void =>
  store.updateLot(turn.db, id, change)
export const keepBid = (turn: Turn, kept: store.KeptBid): void => store.keepBid(turn.db, kept)

const pictureOf = ({ sha, caption, width, height }: LotPhotograph): LotPhotograph => ({ sha, caption, width, height })

interface Terms {
  currency: Currency
  lateBid: LateBid
}
interface Settled extends Terms {
  fixedPrice: FixedPrice | null
}

const settledOf = (sight: Sight, row: store.StoredLot): Settled => ({ ...beforeTerms(sight)(row), fixedPrice: fixedPriceOf(sight, row) })

/** Currency and late bids of a lot: its terms say them, and until there are terms it is its campaign, which is read once for all. */
function beforeTerms(sight: Sight): (row: Pick<store.StoredLot, 'terms' | 'campaignNumber'>) => Terms {
  const ofCampaigns = new Map<number, Terms>()
  return ({ terms, campaignNumber: number }) => {
    if (terms) return { currency: terms.currency, lateBid: lateBidOf(terms) }
    const known = ofCampaigns.get(number)
    if (known) return known
    const campaign = getCampaign(inCampaign(sight, number))
    const found = { currency: campaign.currency, lateBid: lateBidOfCampaign(campaign) }
    ofCampaigns.set(number, found)
    return found
  }
}

/** What a late bid is on lots that open from now on. */
export const lateBidOfCampaign = ({ lateWindowSeconds, lateAddsSeconds }: Campaign): LateBid => ({
  windowMs: lateWindowSeconds * SECOND,
  addsMs: lateAddsSeconds * SECOND,
})

function cardOf(sight: Sight, row: store.StoredLot, { currency, lateBid, fixedPrice }: Settled, photograph: LotPhotograph | null): LotCard {
  const isOver = row.state === 'sold' || row.state === 'unsold' || row.state === 'withdrawn'
  const openingMinor = row.terms?.openingMinor ?? row.openingMinor
  const ladder: Ladder = row.terms?.ladder ?? row.ladder ?? defaultLadder(currency)
  return {
    id: row.id,
    number: row.number,
    unitId: row.unitId,
    unit: row.unitTag,
    title: row.title || row.unitTag,
    state: row.state,
    currency,
    openingMinor,
    standingMinor: row.standingMinor,
    leastNextMinor: isOver || openingMinor === null ? null : leastNext({ openingMinor, ladder }, row.standingMinor),
    bids: row.bids,
    reserve: reserveAt(reserveOfLot(sight, row)?.amountMinor ?? null, row.standingMinor),
    closesAt: row.closesAt,
    lateBid,
    openedAt: row.openedAt,
    endedAt: row.endedAt,
    heldSince: row.heldSince,
    heldReason: row.heldReason,
    extendedTimes: row.extensions,
    leaderAlias: row.leaderAlias,
    hammerMinor: row.hammerMinor,
    ...(row.standsMinor !== null && { standsMinor: row.standsMinor }),
    ...(row.afterwards !== '' && { afterwards: row.afterwards }),
    winnerPersonId: row.winnerPersonId,
    lowMinor: row.lowMinor,
    likelyMinor: row.likelyMinor,
    highMinor: row.highMinor,
    soldWhere: row.soldWhere,
    ...(row.terms && { causeShareBp: row.terms.sale.causeShareBp }),
    elsewhereUrl: row.elsewhereUrl,
    resultSource: row.resultSource,
    fixedPrice,
    corrections: row.corrections,
    ledgerSize: row.ledgerSize,
    headHash: row.headHash,
    photograph: photograph && pictureOf(photograph),
  }
}
