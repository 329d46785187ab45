import { afterEach, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { campaignForm } from '#test/make/campaign'
import { makePreparedLot } from '#test/make/lot'
import { makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

it('tells each campaign for itself and all of them together; nobody but the maker is told who gave', async () => {
  stage = openStage()
  await makeSoldLot(stage)
  const maker = await stage.as('maker')
  const first = await maker.lessons.read({ of: null })
  expect(first?.campaigns).toHaveLength(1)
  expect(first?.designs).toMatchObject([{ machines: 1, sold: 1, raisedMinor: 5000, sales: { many: 1, middle: 5000 } }])
  expect(first?.hours.reduce((sum, { bids }) => sum + bids, 0)).toBe(2)
  stage.clock.pass(MINUTE)
  await maker.nextCampaign.begin({ ...campaignForm(stage.clock.now(), { name: 'Second lights' }), slug: 'spring-2027', ends: 1 })
  expect((await maker.lessons.read({ of: 2 }))?.designs).toEqual([])
  expect((await maker.lessons.read({ of: 1 }))?.designs).toEqual(first?.designs)
  expect((await maker.lessons.read({ of: null }))?.designs).toEqual(first?.designs)
  expect((await (await stage.as('treasurer')).lessons.read({ of: null }))?.givers.names).toEqual([])
  await expect(maker.lessons.read({ of: 9 })).rejects.toThrow('There was no such campaign here.')
})

it('says at a new lot what others of its design were sold for, in any campaign', async () => {
  stage = openStage()
  await makeSoldLot(stage)
  const maker = await stage.as('maker')
  stage.clock.pass(MINUTE)
  await maker.nextCampaign.begin({ ...campaignForm(stage.clock.now()), slug: 'spring-2027', ends: 1 })
  const { number } = await makePreparedLot(stage, { tag: 'TERN-09' })
  // Another design.
  expect(await maker.lots.pastSales({ lot: number })).toBeNull()
  stage.db.$client.exec(`UPDATE unit SET run_id = (SELECT run_id FROM unit WHERE tag = 'TERN-03') , number = 2 WHERE tag = 'TERN-09'`)
  expect(await maker.lots.pastSales({ lot: number })).toMatchObject({ many: 1, middle: 5000, before: 0 })
})
