import { afterEach, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeCampaign } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

it('the cause has of a price what the terms of its lot promised, whatever the campaign says since', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage, { closesIn: 30 * MINUTE, sharePercent: '90' })
  const ada = await makeBidder(stage, 'Ada')
  await ada.bid(number, '60')
  const meter = async () => await stage.visitor().proceeds.meter()
  await makeCampaign(stage, { causeSharePercent: '50' })
  expect(await meter()).toMatchObject({ bidMinor: 1_800 })
  expect((await (await stage.as('treasurer')).forecast.now())?.leastMinor).toBeGreaterThanOrEqual(10_800)
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  expect(await meter()).toMatchObject({ wonMinor: 1_800 })
  const [lot] = (await (await stage.as('treasurer')).books.all())?.statement.lots ?? []
  expect(lot).toMatchObject({ hammerMinor: 2_000, causeMinor: 1_800 })
  expect(await ada.caller.invoices.page({ lot: number })).toMatchObject({ shareBp: 9_000 })
})
