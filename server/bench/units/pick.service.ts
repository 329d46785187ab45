import type { Sight } from '#runtime/queue/turn'
import { getPart } from '#stock/catalogue/part.service'
import { batchesById } from '#stock/shelf/batch.service'
import { mayBeFitted } from './may-go-in.service'
import { type PickList, pickList } from './pick.rules'
import { loadUnit } from './unit-state.service'
import { fitChoices } from './view.service'

export interface PickPage extends PickList {
  tag: string
  design: { id: string; name: string; revision: string }
  /** Positions that wait for a check, with the check. */
  later: { designator: string; after: string }[]
  leftEmpty: string[]
}

/** What of a unit is still empty and may be fitted now, and where on the shelf it lies. */
export function pickPage(sight: Sight, tag: string): PickPage {
  const state = loadUnit(sight, tag)
  const { design, fitted, unit } = state
  const empty = design.positions.filter(({ designator }) => !fitted.has(designator))
  const now = empty.filter((position) => mayBeFitted(state, position))
  const choices = fitChoices(sight, tag)
  const rows = new Map(
    batchesById(
      sight,
      choices.flatMap(({ batches }) => batches.map(({ id }) => id)),
    ).map((row) => [row.id, row]),
  )
  const needs = choices.flatMap(({ partId, batches }) => {
    const designators = now.filter((position) => position.partId === partId).map(({ designator }) => designator)
    if (designators.length === 0) return []
    const sources = batches
      .filter(({ asks }) => !asks)
      .map(({ id, code, inHand, words }) => ({ batchId: id, code, inHand, words, place: rows.get(id)?.place ?? '' }))
    return [{ partId, part: getPart(sight, partId).words, designators, sources }]
  })
  return {
    tag: unit.tag,
    design: { id: design.id, name: design.name, revision: design.revision },
    ...pickList(needs),
    later: empty
      .filter((position) => !mayBeFitted(state, position))
      .map(({ designator, fittedAfter }) => ({ designator, after: fittedAfter ?? '' })),
    leftEmpty: design.leftEmpty.flatMap(({ designators }) => designators),
  }
}
