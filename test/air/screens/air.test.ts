import { afterEach, describe, expect, it } from 'vitest'
import { makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

describe('the host', () => {
  it('sees programme, lots, meter and whether all is held', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    const host = await stage.as('host')
    expect(await host.air.host()).toMatchObject({ holdOfAll: null, lots: { lots: [{ number, state: 'open' }] } })
    await host.programme.holdAll({ reason: 'The stream is down.' })
    expect(await host.air.host()).toMatchObject({ holdOfAll: { reason: 'The stream is down.' }, lots: { lots: [{ state: 'held' }] } })
  })

  it('has the story and the record at hand', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    const sheet = await (await stage.as('host')).air.cueSheet({ lot: number })
    expect(sheet).toMatchObject({ lot: number, story: 'Built over nine evenings from gifts.', names: [], friends: 0 })
    expect(sheet.record).not.toEqual([])
  })

  it('before there is a campaign has nothing on air', async () => {
    stage = openStage()
    expect(await (await stage.as('host')).air.host()).toBeNull()
  })
})
