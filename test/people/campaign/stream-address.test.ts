import { afterEach, beforeEach, expect, it } from 'vitest'
import { campaignIn } from '#people/campaign/campaign.contract'
import { openStageDoor } from '#test/doors/web/open-door'
import { campaignForm, makeCampaign } from '#test/make/campaign'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

/** What may stand in a frame of a page, as the browser is told. */
async function framesOf(path: string): Promise<string | undefined> {
  const door = await openStageDoor(stage)
  const policy = (await fetch(`${door.url}${path}`)).headers.get('content-security-policy') ?? ''
  door.close()
  return policy.split('; ').find((part) => part.startsWith('frame-src'))
}

it('a page may show the player of the stream and nobody else’s page; without one, nobody’s', async () => {
  await makeCampaign(stage)
  expect(await framesOf('/lots/1')).toBeUndefined()
  await makeCampaign(stage, {
    streamUrl: 'https://video.example/long-bench-day',
    playerUrl: 'https://player.video.example/embed/42?quiet=1',
  })
  expect(await framesOf('/lots/1')).toBe('frame-src https://player.video.example')
  expect((await stage.visitor().people.shell()).campaign).toMatchObject({ streamUrl: 'https://video.example/long-bench-day' })
})

it.each([
  'http://video.example',
  'javascript:alert(1)',
  'video.example',
  'https://',
  'https://a@video.example/',
  'https://x;script-src/',
  'https://x; script-src *',
])('the address %s is refused at its field', (playerUrl) => {
  const read = campaignIn.safeParse(campaignForm(NOON, { playerUrl }))
  expect(read.error?.issues.map(({ path }) => path)).toEqual([['playerUrl']])
})
