import { afterEach, beforeEach, expect, test } from 'vitest'
import { MOST_MINOR } from '#kernel/money'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(async () => {
  stage = openStage()
  await makeCampaign(stage)
})
afterEach(() => stage.close())

test('a ceiling grows fourfold at a tap, up to as much as anyone can, and no further', async () => {
  const { number } = await (await stage.as('bidder', 'Ada')).people.takePaddle({ name: 'Ada', country: 'GB', acceptsRules: true })
  const host = await stage.as('host')
  const raised: number[] = []
  for (let taps = 0; taps < 10; taps++) raised.push((await host.people.raiseCeiling({ paddle: number })).ceilingMinor)
  expect(raised.slice(0, 2)).toEqual([400_000, 1_600_000])
  expect(raised.at(-1)).toBe(MOST_MINOR)
  await expect(host.people.raiseCeiling({ paddle: number })).rejects.toThrow('as much as anyone can')
})
