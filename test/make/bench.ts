import { join } from 'node:path'
import { makeRun } from '#bench/units/units.service'
import { bringUp, buyWhatIsMissing, importDesigns, layOutInstruments } from '#seed/bench'
import type { Stage } from '#test/stage'

const DIR = join(import.meta.dirname, '../../seed/designs')

/** The four designs, instruments, a run of two of one design and parts for them. Tags are TERN-01, TERN-02 and so on. */
export async function makeBench(stage: Stage, { key = 'saltmarsh-sr3', units = 2 } = {}): Promise<{ designId: string; tags: string[] }> {
  const maker = await stage.actor('maker')
  return stage.command((turn) => {
    const designs = importDesigns(turn, maker, DIR)
    const found = designs.find((one) => one.key === key)
    if (!found) throw new Error(`no design ${key}`)
    layOutInstruments(turn, maker)
    const { tags } = makeRun(turn, maker, { designId: found.designId, tagPrefix: found.prefix, count: units })
    buyWhatIsMissing(turn, maker, found.designId, units + 1, 'Parts by the Quay')
    return { designId: found.designId, tags }
  })
}

/** Works down the checklist of a unit until a check, or to the end. */
export async function bringUpUnit(
  stage: Stage,
  tag: string,
  until?: string,
  readings: Record<string, string> = {},
): Promise<string | null> {
  const maker = await stage.actor('maker')
  return stage.command((turn) => bringUp(turn, maker, { tag, readings, ...(until === undefined ? {} : { until }) }))
}
