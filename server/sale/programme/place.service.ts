import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import type { Turn } from '#runtime/queue/turn'
import { planClosing } from '../closings/closings.service'
import { listLots } from '../lots/lots.service'
import { civilParts } from './civil-time.rules'
import type { ProgrammeItem } from './programme.contract'
import { asItRuns } from './programme.rules'
import { asItem, ENDED, listItems, refuseObjection, told } from './programme.service'
import * as store from './programme.store'
import { stoodAsNear } from './ripple.rules'

export interface ClosingMove {
  lot: number
  at: Instant
}

/**
 * Gives lots their times, all in one go: each is held against the others where they will stand, not where they stood.
 * Answers how many moved or are new. Refuses the whole when one of them cannot stand.
 */
export function placeClosings(turn: Turn, moves: readonly ClosingMove[], reason = ''): number {
  const { zone } = getCampaign(turn)
  const lots = listLots(turn)
  const rows = store.readItems(turn.db, campaignNumber(turn))
  const before = asItRuns(listItems(turn))
  const changed = moves.flatMap(({ lot: number, at }) => {
    const lot = lots.find((one) => one.number === number)
    if (!lot || ENDED.includes(lot.state))
      throw new Refusal('conflict', `Lot ${number} no longer fits anywhere. Have the day planned again.`)
    const row = rows.find(({ lotId }) => lotId === lot.id)
    if (row?.startsAt === at) return []
    const civil = civilParts(at, zone)
    const times = { startsAt: at, endsAt: at, civilStart: `${civil.on}T${civil.at}`, zone, changedAt: turn.now }
    const placed: store.ItemRow = row
      ? { ...row, ...times, sequence: asItem(row, lot, turn.now).sequence + 1 }
      : {
          id: turn.dice.id(),
          kind: 'closing',
          lotId: lot.id,
          title: `Lot ${number}`,
          note: '',
          announcedAt: null,
          sequence: 0,
          keepsTime: false,
          campaignNumber: campaignNumber(turn),
          ...times,
        }
    return [{ lot, row, placed }]
  })
  const moving = new Set(changed.map(({ placed }) => placed.id))
  const staying = listItems(turn).filter(({ id, isOver }) => !moving.has(id) && !isOver)
  const placed = changed.map(({ placed: one, lot }) => ({
    ...asItem(one, lot, turn.now),
    startsAt: one.startsAt,
    endsAt: one.endsAt,
    runsTo: one.endsAt,
  }))
  const isAsNear = (item: ProgrammeItem, other: ProgrammeItem) => stoodAsNear(asItRuns([item, other]), before)
  for (const [index, { row, lot }] of changed.entries()) {
    const item = placed[index]
    const was = row ? asItem(row, lot, turn.now) : null
    // An extension or a hold may have moved the close already: what everybody was told last counts.
    const announced = was && { ...was, startsAt: Math.max(was.startsAt, was.runsTo) }
    // Late bids may have brought two near each other before; that is no reason to refuse a change that leaves them so.
    const others = [...staying, ...placed].filter((other) => item && other.id !== item.id && !isAsNear(item, other))
    if (item) refuseObjection(turn, item, announced, others)
  }
  for (const { row, placed: one, lot } of changed) {
    const was = asItem(row ?? one, lot, turn.now)
    if (row) store.updateItem(turn.db, row.id, one)
    else store.insertItem(turn.db, one)
    planClosing(turn, lot.number, one.startsAt)
    turn.record({
      kind: row ? 'programme.moved' : 'programme.planned',
      subject: `programme:${one.id}`,
      body: { ...told(was), from: row ? was.runsTo : null, to: one.startsAt, reason, startsAt: one.startsAt },
    })
  }
  return changed.length
}
