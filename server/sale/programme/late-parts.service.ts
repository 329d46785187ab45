import { readBuild } from '#bench/buildable/build.service'
import type { Builder } from '#bench/buildable/builder'
import type { Sight } from '#runtime/queue/turn'
import type { LateLot } from './programme.contract'
import { listItems } from './programme.service'

/** Lots of the day that are still to close and whose machines lack parts that come too late for it, or that nobody has promised. */
export async function latePartsOfDay(sight: Sight, builder: Builder): Promise<LateLot[]> {
  const closings = listItems(sight).filter(({ kind, isOver, unit }) => kind === 'closing' && !isOver && unit !== null)
  if (closings.length === 0) return []
  const { designs, ready } = await readBuild(sight, builder)
  const lacks = new Map(
    designs.flatMap(({ units, columns }) => {
      const names = new Map(columns.map(({ lineId, part }) => [lineId, part.words]))
      return units
        .filter(({ isInTime }) => !isInTime)
        .map(({ tag, lines }): [string, string[]] => [
          tag,
          lines.flatMap(({ lineId, onItsWay, promised, missing }) => {
            const open = onItsWay + promised + missing
            return open > 0 ? [`${open} × ${names.get(lineId) ?? 'a part'}`] : []
          }),
        ])
    }),
  )
  return closings.flatMap(({ id, lot, unit, isAnnounced }) => {
    const parts = lacks.get(unit ?? '')
    return lot === null || !parts || parts.length === 0
      ? []
      : [{ itemId: id, lot, unit: unit ?? '', isAnnounced, parts, neededBy: ready.lastUsefulDay }]
  })
}
