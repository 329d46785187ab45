import type { Currency } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import { noteChange } from '#people/changes/changes.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { defaultLadder, type Ladder, ladderWords, readLadder } from '../price/ladder.rules'
import type { SaveLadderIn } from './lots.contract'
import { getLotRow, type LotRow } from './lots.service'
import * as store from './lots.store'

/** The ladder of a lot: its own, else the campaign's, else the one that the house starts with. */
export const ladderFor = (sight: Sight, row: Pick<LotRow, 'terms' | 'ladder'>, currency: Currency): Ladder =>
  row.terms?.ladder ?? row.ladder ?? store.findSaleLadder(sight.db, campaignNumber(sight)) ?? defaultLadder(currency)

export interface LadderView {
  ladder: Ladder
  currency: Currency
  /** Where it comes from. */
  from: 'lot' | 'campaign' | 'house'
}

/** The ladder that holds for a lot, or for every lot that has none of its own. */
export function readLadderFor(sight: Sight, number: number | null): LadderView {
  const { currency } = getCampaign(sight)
  const row = number === null ? null : getLotRow(sight, number)
  const ofCampaign = store.findSaleLadder(sight.db, campaignNumber(sight))
  const from = row?.ladder ? 'lot' : ofCampaign ? 'campaign' : 'house'
  return { ladder: row ? ladderFor(sight, row, currency) : (ofCampaign ?? defaultLadder(currency)), currency, from }
}

/** Keeps a ladder for a lot that is not open, or for all that have none of their own; no rows: back to what is above it. */
export function saveLadder(turn: Turn, by: Actor, { lot, rows }: SaveLadderIn): LadderView {
  const { currency } = getCampaign(turn)
  const filled = rows.map((row, index) => ({ ...row, index })).filter(({ from, step }) => from !== '' || step !== '')
  const ladder = filled.length === 0 ? null : readLadder(filled, currency)
  if (lot === null) {
    const before = readLadderFor(turn, null).ladder
    store.keepSaleLadder(turn.db, campaignNumber(turn), ladder)
    const now = readLadderFor(turn, null).ladder
    noteChange(turn, by, {
      kind: 'terms',
      what: 'the ladder of the sale',
      before: ladderWords(before, currency),
      after: ladderWords(now, currency),
    })
    turn.record({ kind: 'sale.ladder-kept', subject: 'campaign', body: { rungs: ladder?.length ?? 0 } })
    return readLadderFor(turn, null)
  }
  const row = getLotRow(turn, lot)
  if (row.state !== 'draft' && row.state !== 'ready')
    throw new Refusal('conflict', 'Its ladder was fixed when it opened, with its other terms.')
  const before = ladderFor(turn, row, currency)
  store.updateLot(turn.db, row.id, { ladder })
  const now = readLadderFor(turn, lot).ladder
  noteChange(turn, by, {
    kind: 'terms',
    what: `the ladder of lot ${row.number}`,
    before: ladderWords(before, currency),
    after: ladderWords(now, currency),
  })
  turn.record({ kind: 'lot.prepared', subject: `lot:${row.number}`, body: { number: row.number, unit: row.unitTag } })
  return readLadderFor(turn, lot)
}

/** The next campaign begins with the ladder of the one before. */
export const carryLadder = (turn: Turn, from: number, to: number): void =>
  store.keepSaleLadder(turn.db, to, store.findSaleLadder(turn.db, from))
