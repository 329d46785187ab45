import { eq } from 'drizzle-orm'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { fitting } from '#db/schema/index'
import { MINUTE } from '#kernel/instant'
import { bringUpUnit } from '#test/make/bench'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let tag = ''
let other = ''
beforeEach(async () => {
  stage = openStage()
  ;({ tag, other } = await makeTestedUnit(stage))
})
afterEach(() => stage.close())

const unit = async (of = tag) => (await stage.as('maker')).spent.unit({ tag: of })

test('a machine that was worked on in one instant has the minutes before its first note', async () => {
  expect(await unit()).toMatchObject({ measuredMinutes: 5, minutes: 5, people: [{ name: 'maker', minutes: 5 }] })
  expect(await unit(other)).toMatchObject({ minutes: 0, stretches: [] })
})

test('an observation, a fitting and a reading count alike, and the pause can be set anew for all that was done', async () => {
  const maker = await stage.as('maker')
  stage.clock.pass(180 * MINUTE)
  await bringUpUnit(stage, other, 'B3')
  await stage.command(({ db, now }) =>
    db
      .update(fitting)
      .set({ at: now - 40 * MINUTE })
      .where(eq(fitting.at, now))
      .run(),
  )
  // Everything in one go, and forty minutes before that the fittings: two sessions.
  expect((await unit(other)).minutes).toBe(10)
  await maker.spent.setWeek({ pause: 45, lead: 5, weekly: '' })
  expect(await unit(other)).toMatchObject({ minutes: 45, week: { pauseMinutes: 45, by: 'maker' } })
})

test('the sum is put right with who and why, sent twice it counts once, and it is never below nought', async () => {
  const volunteer = await stage.as('volunteer')
  const more = { key: 'correction-one', tag, way: 'more' as const, time: '1:30', reason: 'soldered without a note' }
  await volunteer.spent.correctTime(more)
  await volunteer.spent.correctTime(more)
  expect(await unit()).toMatchObject({
    measuredMinutes: 5,
    minutes: 95,
    corrections: [{ by: 'volunteer', minutes: 90, reason: 'soldered without a note', at: stage.clock.now() }],
  })
  await volunteer.spent.correctTime({ key: 'correction-two', tag, way: 'less', time: '4 h', reason: 'left the bench' })
  expect((await unit()).minutes).toBe(0)
})

test('a time that is none is refused at its field', async () => {
  const volunteer = await stage.as('volunteer')
  const correction = { key: 'correction-one', tag, way: 'more' as const, time: 'long', reason: 'soldered' }
  await expect(volunteer.spent.correctTime(correction)).rejects.toThrow('Write hours and minutes')
  const maker = await stage.as('maker')
  await expect(maker.spent.setWeek({ pause: 10, lead: 20, weekly: '12 h' })).rejects.toThrow('as for the pause')
})

test('parts cost what was said of them, and those of which nothing was said are counted', async () => {
  const maker = await stage.as('maker')
  const before = await unit()
  expect(before).toMatchObject({ givenMinor: 0, boughtMinor: 0 })
  expect(before.unpriced).toBeGreaterThan(40)
  const [line] = [...before.lines].sort((a, b) => b.count - a.count)
  await maker.shelf.setPrice({ partId: line?.partId ?? '', amount: '5.00', pieces: 100, source: '' })
  const after = await unit()
  expect(after.boughtMinor).toBe((line?.count ?? 0) * 5)
  expect(after.unpriced).toBe(before.unpriced - (line?.count ?? 0))
  expect((await maker.spent.all()).machines).toMatchObject([{ tag, minutes: 5, boughtMinor: after.boughtMinor, isFinished: true }])
})

test('nobody outside reads any of it until the maker chose it, and then no more than was chosen', async () => {
  const maker = await stage.as('maker')
  const seen = async () => (await stage.visitor().record.ofUnit({ tag })).spent
  expect(await seen()).toBeNull()
  await maker.spent.show({ tag, hours: true, parts: false })
  expect(await seen()).toEqual({ minutes: 5, parts: null })
  await maker.spent.show({ tag, hours: false, parts: true })
  expect(await seen()).toMatchObject({ minutes: null, parts: { minor: 0 } })
  await maker.spent.show({ tag, hours: false, parts: false })
  expect(await seen()).toBeNull()
})

test('what can be built says by when, from the hours that a finished machine took', async () => {
  const maker = await stage.as('maker')
  expect((await maker.buildable.now()).pace).toMatchObject({ weeklyMinutes: null, rows: [] })
  await maker.spent.correctTime({ key: 'correction-one', tag, way: 'more', time: '9:55', reason: 'soldered without a note' })
  await maker.spent.setWeek({ pause: 30, lead: 5, weekly: '7 h' })
  expect((await maker.buildable.now()).pace.rows).toMatchObject([{ tag: other, leftMinutes: 600, isMeasured: true }])
})
