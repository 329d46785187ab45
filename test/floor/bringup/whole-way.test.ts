import { afterEach, beforeEach, expect, it } from 'vitest'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(async () => {
  stage = openStage()
  await makeCampaign(stage)
})
afterEach(() => stage.close())

it.each([
  ['saltmarsh-sr3', 'TERN-01'],
  ['copperbeech-v1', 'LARK-01'],
  ['tidemill-lc6', 'WREN-01'],
  ['samphire-fc8', 'PIPIT-01'],
])(
  'a unit of %s is fitted, checked from the first to the last check and certified',
  async (key, tag) => {
    await makeBench(stage, { key })
    expect(await bringUpUnit(stage, tag)).toBeNull()
    const maker = await stage.as('maker')
    const view = await maker.bringup.unit({ tag })
    expect(view.missing).toEqual([])
    expect(view.reached).toBe(2)
    const { serial } = await maker.certificates.issue({ tag })
    expect(await maker.bringup.unit({ tag })).toMatchObject({ reached: 3, certificate: serial, next: null })
    // Some seventy commands in one go, on a machine that may be busy with other tests.
  },
  60_000,
)
