import type { z } from 'zod'
import { listDesigns } from '#bench/designs/designs.service'
import { listRoster, madeOf } from '#bench/units/roster.service'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { mayGoTo, type Restriction } from '#stock/donors/gift.rules'
import { type GiftLine, getGift } from '#stock/donors/gift.service'
import { restrictGift } from '#stock/donors/gift-change.service'
import { batchesOfGifts } from '#stock/shelf/batch.service'
import { fittedNow } from '#stock/shelf/fitted.service'
import type { restrictIn } from './gift.contract'

/** What a gift can be kept for: every unit and every design. */
export interface Goals {
  units: { id: string; tag: string }[]
  designs: { id: string; name: string }[]
}

export const goalsOf = (sight: Sight): Goals => ({
  units: listRoster(sight).map(({ id, tag }) => ({ id, tag })),
  designs: listDesigns(sight).map(({ id, name, revision }) => ({ id, name: `${name} rev ${revision}` })),
})

/** The restriction as a form gives it; refuses two at once, and what is not there. */
export function restrictionIn(
  sight: Sight,
  { onlyForUnitId, onlyForDesignId }: { onlyForUnitId?: string | undefined; onlyForDesignId?: string | undefined },
  field = 'onlyFor',
): Restriction {
  if (onlyForUnitId && onlyForDesignId) throw Refusal.at(field, 'Restrict it to one unit or to one design, not both.')
  const goals = goalsOf(sight)
  if (onlyForUnitId && !goals.units.some(({ id }) => id === onlyForUnitId))
    throw Refusal.at(field, 'There is no such unit. Reload the page.')
  if (onlyForDesignId && !goals.designs.some(({ id }) => id === onlyForDesignId))
    throw Refusal.at(field, 'There is no such design. Reload the page.')
  return { onlyForUnitId: onlyForUnitId || null, onlyForDesignId: onlyForDesignId || null }
}

/** "only for TERN-03", "only for Saltmarsh rev 3", "for any machine". */
export function restrictionWords(goals: Goals, { onlyForUnitId, onlyForDesignId }: Restriction): string {
  const unit = goals.units.find(({ id }) => id === onlyForUnitId)
  const design = goals.designs.find(({ id }) => id === onlyForDesignId)
  return unit ? `only for ${unit.tag}` : design ? `only for ${design.name}` : 'for any machine'
}

/** Changes what a gift is kept for. What is fitted elsewhere already stands in the way. */
export function changeRestriction(turn: Turn, actor: Actor, { giftId, reason, ...asked }: z.output<typeof restrictIn>): GiftLine {
  const row = getGift(turn, giftId)
  const to = restrictionIn(turn, asked)
  const goals = goalsOf(turn)
  const batchIds = batchesOfGifts(turn, [giftId]).map(({ id }) => id)
  const elsewhere = fittedNow(turn, batchIds).filter(({ unitId }) => !mayGoTo(to, { unitId, designId: madeOf(turn, unitId).designId }))
  if (elsewhere.length > 0) {
    const tags = [...new Set(elsewhere.map(({ tag }) => tag))].join(', ')
    throw Refusal.at(
      'onlyFor',
      `${elsewhere.length} of it are in ${tags} already. Take them out there first, or leave it as it is.`,
      'conflict',
    )
  }
  const [was, now] = [restrictionWords(goals, row), restrictionWords(goals, to)]
  if (was !== now) restrictGift(turn, actor, row, { to, was, now, reason })
  return getGift(turn, giftId)
}
