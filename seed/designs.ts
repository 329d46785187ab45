import { join } from 'node:path'
import { loadUnit } from '#bench/units/unit-state.service'
import { importDesigns, layOutInstruments } from './bench'
import type { Person, Telling } from './stage'

/** How many units are made to each design; the last two are small machines, made in an evening. */
const RUNS: Record<string, number> = {
  'saltmarsh-sr3': 4,
  'copperbeech-v1': 3,
  'tidemill-lc6': 3,
  'samphire-fc8': 5,
  'marram-mt2': 5,
  'eelgrass-ct1': 4,
}

export interface Runs {
  designIds: Map<string, string>
  /** Pieces that all units together need, by part. */
  needs: Map<string, number>
}

/** The machines come in through the import that a maker uses, and each gets its run of units. */
export async function tellDesigns({ say, house }: Telling, maker: Person): Promise<Runs> {
  say('six designs, imported from their lists')
  const dir = join(process.cwd(), 'seed', 'designs')
  const imported = await house.queue.run((turn) => [dir, join(dir, 'small')].flatMap((one) => importDesigns(turn, maker, one)))
  await house.queue.run((turn) => layOutInstruments(turn, maker))
  const needs = new Map<string, number>()
  for (const { key, designId, prefix } of imported) {
    const { tags } = await maker.api.bringup.makeRun({ designId, tagPrefix: prefix, count: RUNS[key] ?? 1 })
    const { positions } = loadUnit(house.sight(), tags[0] ?? '').design
    for (const { partId } of positions) needs.set(partId, (needs.get(partId) ?? 0) + tags.length)
  }
  return { designIds: new Map(imported.map(({ key, designId }) => [key, designId])), needs }
}
