import { readBuild } from '#bench/buildable/build.service'
import type { Builder } from '#bench/buildable/builder'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import { listLots } from '../lots/lots.service'
import { lateWords } from './late-words.rules'
import type { LateLot } from './programme.contract'
import { ENDED, listItems } from './programme.service'

/** Lots still to close whose machines lack parts that come too late for the day, or that nobody has promised. */
export async function listLateLots(sight: Sight, builder: Builder): Promise<LateLot[]> {
  const lots = listLots(sight).filter(({ state, unit }) => !ENDED.includes(state) && unit !== null)
  if (lots.length === 0) return []
  const items = listItems(sight)
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
  return lots.flatMap(({ number: lot, unit }) => {
    const parts = lacks.get(unit ?? '')
    if (!parts || parts.length === 0) return []
    const item = items.find((one) => one.lot === lot)
    return [
      { itemId: item?.id ?? null, lot, unit: unit ?? '', isAnnounced: item?.isAnnounced ?? false, parts, neededBy: ready.lastUsefulDay },
    ]
  })
}

/** Asks once more before closings are announced whose machines may not be ready; `about` tells which of the late lots are. */
export async function askIfLate(sight: Sight, builder: Builder, about: (lot: LateLot) => boolean): Promise<void> {
  const late = (await listLateLots(sight, builder)).filter((one) => !one.isAnnounced && about(one))
  if (late.length === 0) return
  const lots = late.map((one) => `Lot ${one.lot} may not be ready: ${lateWords(one)}.`).join(' ')
  throw Refusal.at('evenIfLate', `${lots} Announce it all the same, or leave it unannounced for now.`, 'conflict')
}
