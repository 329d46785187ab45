import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import { defaultLadder, type Ladder } from '../price/ladder.rules'
import { leastNext, reserveOf } from '../price/price.rules'
import type { LotCard, LotPhotograph } from './lots.contract'
import * as store from './lots.store'
import { postageTo } from './postage.rules'

export type { LotRow } from './lots.store'

/** Every lot, drafts too, by number. */
export function listLots(sight: Sight): LotCard[] {
  const photographs = store.firstPhotographs(sight.db)
  const currencyOf = currencies(sight)
  return store.listAll(sight.db).map((row) => cardOf(row, currencyOf(row), photographs.get(row.id) ?? null))
}

/** The lots that anybody may see, in the order in which they close. */
export const listPublicLots = (sight: Sight): LotCard[] =>
  listLots(sight)
    .filter(({ state }) => state !== 'draft')
    .sort((a, b) => (a.closesAt ?? Number.POSITIVE_INFINITY) - (b.closesAt ?? Number.POSITIVE_INFINITY) || a.number - b.number)

export function findLot(sight: Sight, number: number): LotCard | null {
  const row = store.findByNumber(sight.db, number)
  return row ? cardOf(row, currencies(sight)(row), store.listPhotographs(sight.db, row.id)[0] ?? null) : null
}

/** A lot that anybody may see, by its number as it stands in an address; null when there is none, or a draft still. */
export function findShownLot(sight: Sight, written: string): LotCard | null {
  const lot = /^[1-9]\d{0,8}$/.test(written) ? findLot(sight, Number(written)) : null
  return lot && lot.state !== 'draft' ? lot : null
}

/** The lot in which a unit is or was sold last; null before there is one. */
export function findLotOfUnit(sight: Sight, unitId: string): LotCard | null {
  const row = store.findByUnit(sight.db, unitId)
  return row ? cardOf(row, currencies(sight)(row), null) : null
}

/** The same without its photographs, for what is sent at every bid. */
export function findBareLot(sight: Sight, number: number): LotCard | null {
  const row = store.findByNumber(sight.db, number)
  return row ? cardOf(row, currencies(sight)(row), null) : null
}

export function getLotRow(sight: Sight, number: number): store.LotRow {
  const row = store.findByNumber(sight.db, number)
  if (!row) throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  return row
}

export const getLotRowById = (sight: Sight, id: string): store.LotRow => {
  const row = store.findById(sight.db, id)
  if (!row) throw new Refusal('not-found', 'There is no such lot.')
  return row
}

/** Lots that are sold here and not over yet, earliest closing first. */
export const listRunningRows = (sight: Sight): store.LotRow[] =>
  store.listInStates(sight.db, ['open', 'held']).filter(({ soldWhere }) => soldWhere === 'here')

export const listReadyRows = (sight: Sight): store.LotRow[] => store.listInStates(sight.db, ['draft', 'ready'])

/** Whether a person leads on a lot, or led when it ended. */
export const isLeader = (row: Pick<store.LotRow, 'leaderPersonId'>, personId: string): boolean => row.leaderPersonId === personId

/** The lot that closes first, and when; null when none runs. */
export const findNextToClose = (sight: Sight): { number: number; closesAt: Instant } | null => store.nextDue(sight.db) ?? null
export const findHead = (sight: Sight, number: number): string | null => store.headOf(sight.db, number)

export const getPhotographs = (sight: Sight, lotId: string): LotPhotograph[] => store.listPhotographs(sight.db, lotId).map(pictureOf)
export const getExtras = (sight: Sight, lotId: string): string[] => store.listExtras(sight.db, lotId).map(({ words }) => words)
/** What goes with a lot, by its terms once it is open. */
export const extrasOf = (sight: Sight, row: store.LotRow): string[] => row.terms?.sale.extras ?? getExtras(sight, row.id)
export const getPostage = (sight: Sight, lotId: string) => store.listPostage(sight.db, lotId)

/** What a lot costs to send, by its terms once it is open. */
export const postageTable = (sight: Sight, row: store.LotRow) => row.terms?.sale.postage ?? store.listPostage(sight.db, row.id)

/** What it costs to send a lot to a country, by its terms once it is open; null when it is not sent there. */
export const postageOf = (sight: Sight, row: store.LotRow, country: string): Minor | null =>
  postageTo(postageTable(sight, row), country)?.amountMinor ?? null

/** What the rooms next door keep on a lot; they have decided, here it is written. */
export const changeLot = (turn: Turn, id: string, change: Partial<store.LotRow>): void => store.updateLot(turn.db, id, change)
export const keepBid = (turn: Turn, kept: store.KeptBid): void => store.keepBid(turn.db, kept)

const pictureOf = ({ sha, caption, width, height }: LotPhotograph): LotPhotograph => ({ sha, caption, width, height })

/** The currency of a lot: its terms name one, and until there are terms it is the campaign's, which is read once for all. */
function currencies(sight: Sight): (row: store.LotRow) => Currency {
  let campaigns: Currency | null = null
  return ({ terms }) => {
    if (terms) return terms.currency
    campaigns ??= getCampaign(sight).currency
    return campaigns
  }
}

function cardOf(row: store.LotRow, currency: Currency, photograph: LotPhotograph | null): LotCard {
  const isOver = row.state === 'sold' || row.state === 'unsold' || row.state === 'withdrawn'
  const openingMinor = row.terms?.openingMinor ?? row.openingMinor
  const ladder: Ladder = row.terms?.ladder ?? row.ladder ?? defaultLadder(currency)
  const leader =
    row.leaderAlias !== null && row.leaderMaximumMinor !== null && row.leaderSequence !== null
      ? { bidder: row.leaderAlias, maximumMinor: row.leaderMaximumMinor, sequence: row.leaderSequence }
      : null
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
    reserve: reserveOf({ reserveMinor: row.terms ? row.terms.reserveMinor : row.reserveMinor }, leader),
    closesAt: row.closesAt,
    openedAt: row.openedAt,
    endedAt: row.endedAt,
    heldSince: row.heldSince,
    heldReason: row.heldReason,
    extendedTimes: row.extensions,
    leaderAlias: row.leaderAlias,
    hammerMinor: row.hammerMinor,
    winnerPersonId: row.winnerPersonId,
    lowMinor: row.lowMinor,
    likelyMinor: row.likelyMinor,
    highMinor: row.highMinor,
    soldWhere: row.soldWhere,
    elsewhereUrl: row.elsewhereUrl,
    resultSource: row.resultSource,
    corrections: row.corrections,
    ledgerSize: row.ledgerSize,
    headHash: row.headHash,
    photograph: photograph && pictureOf(photograph),
  }
}
