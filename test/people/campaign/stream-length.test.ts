import { afterEach, expect, it } from 'vitest'
import { civilOf } from '#kernel/civil'
import { DAY, HOUR } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignForm, makeCampaign } from '#test/make/campaign'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const closing = (days: number) => ({ streamCloses: civilOf(stage.clock.now() + days * DAY, 'Europe/London') })

it('a stream is not stretched over weeks to sell what is left: it says what to do instead', async () => {
  stage = openStage()
  await makeCampaign(stage)
  const maker = await stage.as('maker')
  const refused = await refusedAt(maker.campaign.save(campaignForm(stage.clock.now(), closing(37))))
  expect(refused.streamCloses).toContain('at most 3 days, and this would be 38')
  expect(refused.streamCloses).toContain('at a fixed price')
  expect(getCampaign(stage.sight()).streamClosesAt).toBe(stage.clock.now() + 8 * HOUR)
  await maker.campaign.save(campaignForm(stage.clock.now(), closing(2)))
  for (let times = 0; times < 5; times++) await maker.programme.endLater({ minutes: 240, reason: 'More to tell.' })
  expect((await refusedAt(maker.programme.endLater({ minutes: 1, reason: 'More to tell.' }))).minutes).toContain('at most 3 days')
})

it('a house that has a longer one already changes everything else, and makes it shorter', async () => {
  stage = openStage()
  await makeCampaign(stage)
  stage.db.$client.prepare('UPDATE campaign SET stream_closes_at = ?').run(stage.clock.now() + 37 * DAY)
  const maker = await stage.as('maker')
  await maker.campaign.save(campaignForm(stage.clock.now(), { ...closing(37), causeName: 'Another school' }))
  expect(getCampaign(stage.sight()).causeName).toBe('Another school')
  expect(await refusedAt(maker.campaign.save(campaignForm(stage.clock.now(), closing(38))))).toHaveProperty('streamCloses')
  await maker.campaign.save(campaignForm(stage.clock.now(), closing(1)))
  expect(getCampaign(stage.sight())).toMatchObject({ streamClosesAt: stage.clock.now() + DAY })
})
