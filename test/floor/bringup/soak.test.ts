import { afterAll, beforeAll, expect, it } from 'vitest'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'

const TAG = 'TERN-01'
const HOUR = 3_600_000
let stage: Stage
beforeAll(async () => {
  stage = openStage()
  await makeCampaign(stage)
  await makeBench(stage)
  await bringUpUnit(stage, TAG, 'B28')
}, 60_000)
afterAll(() => stage.close())

let keys = 0
const on = () => ({ key: `soak key ${++keys}`, tag: TAG, seen: TAG })
const soak = (input: object) => ({ ...on(), check: 'B28', entry: '0', ...input })
const rackWords = async () => {
  const runs = await (await stage.as('maker')).bringup.rack()
  return runs.flatMap(({ units }) => units).find(({ tag }) => tag === TAG)?.next.words
}

it('a soak is started, its hours and cold starts are counted and seen on the rack, and its reading ends it', async () => {
  const maker = await stage.as('maker')
  await expect(maker.bringup.coldStart(on())).rejects.toThrow('No soak is running')
  await expect(maker.bringup.startSoak({ ...on(), check: 'B29' })).rejects.toThrow('is not a soak')
  const { view } = await maker.bringup.startSoak({ ...on(), check: 'B28' })
  expect(view.soak).toMatchObject({ check: 'B28', coldStarts: [] })
  await expect(maker.bringup.startSoak({ ...on(), check: 'B28' })).rejects.toThrow('A soak is already running on this unit')

  stage.clock.pass(3.5 * HOUR)
  const once = on()
  await maker.bringup.coldStart(once)
  expect((await maker.bringup.coldStart(once)).starts).toBe(1)
  expect(await rackWords()).toBe('soak runs: 3.5 of 12 h, 1 of 6 cold starts')

  stage.clock.pass(9 * HOUR)
  for (let start = 2; start <= 6; start++) await maker.bringup.coldStart(on())
  expect(await rackWords()).toBe('soak is over, enter it: 12.5 of 12 h, 6 of 6 cold starts')
  const read = await maker.bringup.takeReading({ ...on(), check: 'B28', entry: '0' })
  expect(read).toMatchObject({ verdict: 'pass', view: { soak: null } })
})

it('a change of the machine ends the soak that runs on it', async () => {
  const maker = await stage.as('maker')
  await maker.bringup.rework({ ...on(), iron: false, changes: [], blocks: ['dial'], fault: 'The pointer slips', changed: 'Cord tightened' })
  await bringUpUnit(stage, TAG, 'B28')
  await maker.bringup.startSoak({ ...on(), check: 'B28' })
  await maker.bringup.rework({ ...on(), iron: false, changes: [], blocks: ['dial'], fault: 'It slips again', changed: 'New cord' })
  expect((await maker.bringup.unit({ tag: TAG })).soak).toBeNull()
})

it('a soak that never ran here is refused, and one that ran elsewhere says so', async () => {
  const maker = await stage.as('maker')
  stage.clock.pass(HOUR)
  await bringUpUnit(stage, TAG, 'B28')
  const typed = { hours: '12', starts: '6' }
  await expect(maker.bringup.takeReading(soak(typed))).rejects.toThrow('No soak of this check ran here')
  const stated = await maker.bringup.takeReading(soak({ ...typed, isStated: true }))
  expect(stated).toMatchObject({ entry: '0 faults in 12 h, 6 cold starts, stated, not observed here', verdict: 'pass' })
  expect(stated.view.checks.find(({ key }) => key === 'B28')?.reading?.soak).toEqual({ hours: 12, starts: 6, isStated: true })
})

it('hours come from the run: lost power does not count, and what is typed beside it changes nothing', async () => {
  const maker = await stage.as('maker')
  await maker.bringup.startSoak({ ...on(), check: 'B28' })
  stage.clock.pass(8 * HOUR)
  await expect(maker.bringup.noteInSoak({ ...on(), power: 'on' })).rejects.toThrow('as having power')
  await expect(maker.bringup.noteInSoak(on())).rejects.toThrow('Write the temperature, the supply or a note.')
  await maker.bringup.noteInSoak({ ...on(), power: 'off' })
  stage.clock.pass(10 * HOUR)
  const { view } = await maker.bringup.coldStart(on())
  expect(view.soak?.notes.map(({ power }) => power)).toEqual(['off', 'on'])
  for (let start = 2; start <= 6; start++) await maker.bringup.coldStart(on())
  await expect(maker.bringup.takeReading(soak({ hours: '12', starts: '6' }))).rejects.toThrow('It ran 8 of 12 h.')
  await expect(maker.bringup.takeReading(soak({ hours: '12', starts: '6', isStated: true }))).rejects.toThrow('ran here')
  await maker.bringup.noteInSoak({ ...on(), temperature: '31 °C', supply: '12.1 V' })
  stage.clock.pass(4 * HOUR)
  const read = await maker.bringup.takeReading(soak({}))
  expect(read.entry).toBe('0 faults in 12 h, 6 cold starts')
  const mended = await maker.bringup.correct({ ...soak({ entry: '0' }), reason: 'counted again' })
  expect(mended.view.checks.find(({ key }) => key === 'B28')?.reading?.soak).toEqual({ hours: 12, starts: 6, isStated: false })
})

it('a run that shall have no result is stopped with a reason', async () => {
  const maker = await stage.as('maker')
  await maker.bringup.startSoak({ ...on(), check: 'B28' })
  expect((await maker.bringup.stopSoak({ ...on(), reason: 'begun on the wrong machine' })).view.soak).toBeNull()
})
