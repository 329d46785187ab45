import { getUnitRow, listRoster, madeOf } from '#bench/units/roster.service'
import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { lotsOfExtras } from '#sale/lots/extras.service'
import { findLotOfUnit, getLotRowById } from '#sale/lots/lots.service'
import type { GiftLine } from '#stock/donors/gift.service'
import { batchesOfGifts } from '#stock/shelf/batch.service'
import { countsAsGood } from '#stock/shelf/piece.rules'
import { batchCards } from '#stock/shelf/stock.service'
import { HELPS } from '../credits/credits.rules'
import type { Outcome, OutcomeLot } from './outcome.rules'

/** What became of these gifts: into which unit at which designators, with which lot, in hand, failed. */
export function outcomesOf(sight: Sight, gifts: readonly GiftLine[]): Outcome[] {
  const ids = gifts.map((gift) => gift.id)
  const cards = groupBy(batchCards(sight, batchesOfGifts(sight, ids)), (card) => card.giftId)
  const extras = groupBy(lotsOfExtras(sight, ids), ({ giftId }) => giftId)
  const lots = new Map<string, OutcomeLot | null>()
  const lotOfUnit = (unitId: string): OutcomeLot | null => {
    const known = lots.get(unitId)
    if (known !== undefined) return known
    const found = findLotOfUnit(sight, unitId)
    const lot = found && outcomeLot(found)
    lots.set(unitId, lot)
    return lot
  }
  return gifts.map((gift) => {
    const own = cards.get(gift.id) ?? []
    const held = groupBy(
      own.flatMap((card) => card.fittedAt),
      ({ unitId }) => unitId,
    )
    const fitted = [...held].map(([unitId, rows]) => ({
      unitId,
      tag: rows[0]?.tag ?? '',
      designators: rows.map(({ designator }) => designator),
      lot: lotOfUnit(unitId),
    }))
    const failedPieces = own.flatMap(({ loose, part }) =>
      loose.filter(({ verdict }) => verdict !== 'not inspected' && !countsAsGood(verdict, part.programmed)),
    )
    return {
      giftId: gift.id,
      what: gift.what,
      kind: gift.kind,
      quantity: gift.quantity,
      minutes: gift.minutes,
      state: gift.state,
      machines:
        fitted.length > 0 || gift.partId !== null ? fitted : helped(sight, gift).map((unit) => ({ ...unit, lot: lotOfUnit(unit.unitId) })),
      withLots: (extras.get(gift.id) ?? []).map(({ lotId }) => {
        const { standsMinor, ...row } = getLotRowById(sight, lotId)
        return outcomeLot({ ...row, title: row.title || row.unitTag, ...(standsMinor !== null && { standsMinor }) })
      }),
      inHand: own.reduce((sum, card) => sum + card.inHand, 0),
      failed: own.reduce((sum, card) => sum + card.bad, 0) + failedPieces.length,
      isQuarantined: own.some((card) => card.state === 'quarantined'),
    }
  })
}

const outcomeLot = ({ id, number, title, state, hammerMinor, standsMinor }: OutcomeLot): OutcomeLot => ({
  id,
  number,
  title,
  state,
  hammerMinor,
  ...(standsMinor !== undefined && { standsMinor }),
})

/** The units that help or a thing without a batch was given for: one, or all of a design. */
function helped(sight: Sight, gift: GiftLine): { unitId: string; tag: string; designators: string[] }[] {
  if (!HELPS.includes(gift.state)) return []
  if (gift.onlyForUnitId !== null) return [{ unitId: gift.onlyForUnitId, tag: getUnitRow(sight, gift.onlyForUnitId).tag, designators: [] }]
  if (gift.onlyForDesignId === null) return []
  return listRoster(sight)
    .filter(({ id }) => madeOf(sight, id).designId === gift.onlyForDesignId)
    .map(({ id, tag }) => ({ unitId: id, tag, designators: [] }))
}
