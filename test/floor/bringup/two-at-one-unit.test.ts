import { afterAll, beforeAll, expect, test } from 'vitest'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { openStageDoor } from '#test/doors/web/open-door'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'

const TAG = 'TERN-01'
let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeAll(async () => {
  // Sessions are looked up against the wall's clock.
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  await makeBench(stage)
  await bringUpUnit(stage, TAG, 'B6')
  door = await openStageDoor(stage)
}, 60_000)
afterAll(() => {
  door.close()
  stage.close()
})

const follow = async (topic: string, personId: string) =>
  fetch(`${door.url}/live?topics=${topic}`, { headers: { cookie: await door.sessionOf(personId) } })

/** The frames of one topic, as the other person's screen gets them. */
async function* framesOf(stream: Response, topic: string): AsyncGenerator<BringupView> {
  let text = ''
  const decoder = new TextDecoder()
  for await (const chunk of stream.body as unknown as AsyncIterable<Uint8Array>) {
    text += decoder.decode(chunk, { stream: true })
    const events = text.split('\n\n')
    text = events.pop() ?? ''
    for (const event of events) {
      const data = /^data: (.*)$/m.exec(event)?.[1]
      if (event.includes(`event: ${topic}\n`) && data) yield JSON.parse(data) as BringupView
    }
  }
}

const entryOf = (view: BringupView | undefined, key: string) => view?.checks.find((check) => check.key === key)?.reading?.entry ?? null

test('two people at one unit see each other’s readings and corrections at once, and those of no other unit', async () => {
  const watcher = await stage.actor('volunteer')
  const maker = await stage.as('maker')
  const [meter] = await maker.bringup.instruments()
  const here = framesOf(await follow(`unit:${TAG}`, watcher.personId), `unit:${TAG}`)
  const there = framesOf(await follow('unit:TERN-02', watcher.personId), 'unit:TERN-02')
  expect(entryOf((await here.next()).value, 'B6')).toBeNull()
  await there.next()

  stage.clock.pass(60_000)
  const reading = { key: 'a key of its own 1', tag: TAG, seen: TAG, check: 'B6', entry: '8.20 V', instrumentId: meter?.id ?? '' }
  await maker.bringup.takeReading(reading)
  const seen = (await here.next()).value
  expect(entryOf(seen, 'B6')).toBe('8.20 V')
  expect(seen?.timeline[0]).toMatchObject({ kind: 'reading', by: 'maker' })

  stage.clock.pass(60_000)
  await maker.bringup.correct({ ...reading, key: 'a key of its own 2', entry: '8.02 V', reason: 'two digits changed places' })
  const put = (await here.next()).value
  expect(entryOf(put, 'B6')).toBe('8.02 V')
  expect(put?.timeline[0]?.words).toContain('a correction: two digits changed places')

  // Whatever the other unit's screen is sent next is its own: nothing of this one came before.
  await maker.bringup.setAside({ tag: 'TERN-02', reason: 'A smell of burning' })
  expect((await there.next()).value).toMatchObject({ tag: 'TERN-02', setAside: 'A smell of burning' })
})

test('a bidder may not follow a unit on the bench', async () => {
  const { personId } = await stage.actor('bidder')
  expect((await follow(`unit:${TAG}`, personId)).status).toBe(403)
})
