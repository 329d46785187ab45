import { afterEach, describe, expect, it, test } from 'vitest'
import { type FirstFacts, firstSteps } from '#floor/rack/first-steps.rules'
import { makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { makeOpenLot, makePreparedLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

const EMPTY: FirstFacts = { hasCampaign: false, designs: [], units: 0, batches: 0, atBench: null, certificates: 0, lot: null }
const nextOf = (facts: Partial<FirstFacts>) => firstSteps({ ...EMPTY, ...facts }).filter(({ state }) => state === 'open')

describe('what comes next on the way to the first lot', () => {
  const campaign = { hasCampaign: true }
  const design = { ...campaign, designs: [{ id: 'd1', name: 'Saltmarsh' }] }
  const run = { ...design, units: 2, atBench: 'TERN-01' }
  const parts = { ...run, batches: 3 }
  const certified = { ...parts, certificates: 1 }
  const lacking = {
    number: 1,
    missing: [
      { words: 'There is no photograph. One is enough.', where: { href: '/bench/lots/1#photographs', label: 'Photographs' } },
      { words: 'Weigh it as it will be sent.', where: { href: '/bench/lots/1#weightGrams', label: 'Weight' } },
    ],
  }

  test.each<[string, Partial<FirstFacts>, string]>([
    ['campaign', {}, '/bench/campaign'],
    ['design', campaign, '/bench/designs/import'],
    ['run', design, '/bench/designs/d1'],
    ['parts', run, '/bench/parcels/new'],
    ['certificate', parts, '/bench/units/TERN-01'],
    ['lot', certified, '/bench/lots'],
    ['prepare', { ...certified, lot: lacking }, '/bench/lots/1#photographs'],
    ['open', { ...certified, lot: { number: 1, missing: [] } }, '/bench/lots/1'],
  ])('is %s with %j, and nothing else', (key, facts, href) => {
    expect(nextOf(facts)).toMatchObject([{ key, href }])
  })

  it('says what a lot lacks first, and how much lacks after it', () => {
    expect(nextOf({ ...certified, lot: lacking })[0]?.words).toBe(
      'There is no photograph. One is enough. One more thing is missing after that.',
    )
  })

  it('does not ask for parcels of a maker who built from what was there', () => {
    expect(nextOf({ ...run, certificates: 1 })).toMatchObject([{ key: 'lot' }])
  })
})

describe('a new house', () => {
  let stage: Stage
  afterEach(() => stage.close())
  const next = async () => (await (await stage.as('maker')).bringup.firstSteps())?.find(({ state }) => state === 'open')?.key

  it('leads from nothing to the bench, and says what is next to whoever comes back', async () => {
    stage = openStage()
    expect(await next()).toBe('campaign')
    await makeCampaign(stage)
    expect(await next()).toBe('design')
    const { tags } = await makeBench(stage)
    expect(tags).toHaveLength(2)
    expect(await next()).toBe('certificate')
  })

  it('leads a prepared lot to its opening, and is silent once one has been opened', async () => {
    stage = openStage()
    const { number } = await makePreparedLot(stage)
    const steps = (await (await stage.as('maker')).bringup.firstSteps()) ?? []
    expect(steps.filter(({ state }) => state === 'open')).toMatchObject([{ key: 'open', href: `/bench/lots/${number}` }])
    stage.close()
    stage = openStage()
    await makeOpenLot(stage)
    expect(await (await stage.as('maker')).bringup.firstSteps()).toBeNull()
  })
})
