import { afterEach, beforeEach, expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { civilParts } from '#sale/programme/civil-time.rules'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { restart } from '#test/make/restart'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let host: Awaited<ReturnType<Stage['as']>>
let at: (minutes: number) => { on: string; at: string }
beforeEach(async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage, { closesIn: HOUR })
  host = await stage.as('host')
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  at = (minutes) => civilParts(NOON + minutes * MINUTE, zone)
  await host.programme.plan({ kind: 'closing', lot: number, ...at(60), announce: true })
  await host.programme.plan({ kind: 'guest', title: 'Ines Abreu', ...at(80), minutes: '30', announce: true })
  await host.programme.plan({ kind: 'break', title: 'Tea', ...at(130), minutes: '10', keepsTime: true })
})
afterEach(() => stage.close())

const times = async () =>
  Object.fromEntries(
    ((await host.programme.day())?.items ?? []).map(({ title, kind, runsTo, startsAt }) => [
      kind === 'closing' ? 'lot' : title,
      ((kind === 'closing' ? runsTo : startsAt) - NOON) / MINUTE,
    ]),
  )

test('after a hold guests follow the closings, what keeps its time stays, and bidders are told', async () => {
  await (await makeBidder(stage, 'Ada')).bid(1, '30')
  stage.clock.set(NOON + 10 * MINUTE)
  await host.programme.holdAll({ reason: 'The stream was lost.' })
  stage.clock.set(NOON + 30 * MINUTE)
  const before = stage.letters().length
  const shown = await host.planning.previewResume()
  await host.programme.resumeAll()
  expect(await times()).toEqual({ lot: 80, 'Ines Abreu': 100, Tea: 130 })
  expect(shown?.shifts.map(({ to }) => (to - NOON) / MINUTE)).toEqual([80, 100])
  expect((await gathered(stage)).slice(before).map(({ recipient, body }) => [recipient, body.includes('The stream was lost.')])).toEqual([
    ['ada@bidder.example', true],
  ])
})

test('after an outage in the last minutes whoever bid is told as after a hold', async () => {
  await (await makeBidder(stage, 'Ada')).bid(1, '30')
  stage.clock.set(NOON + 59 * MINUTE)
  const before = stage.letters().length
  stage = await restart(stage, 4 * MINUTE)
  const told = (await gathered(stage)).slice(before)
  expect(told.map(({ recipient, body }) => [recipient, body.includes('The house was down.')])).toEqual([['ada@bidder.example', true]])
})

test('while the clocks run there is nothing to go on with', async () => {
  expect(await host.planning.previewResume()).toBeNull()
})

test('a break in the new minutes of one lot that was held makes way, and only what stands in its way moves on', async () => {
  await host.programme.plan({ kind: 'break', title: 'Air', ...at(70), minutes: '5', announce: true })
  stage.clock.set(NOON + 10 * MINUTE)
  await host.programme.hold({ lot: 1, reason: 'A reading is looked at again.' })
  stage.clock.set(NOON + 25 * MINUTE)
  await host.programme.resume({ lot: 1 })
  expect(await times()).toEqual({ lot: 75, Air: 80, 'Ines Abreu': 85, Tea: 130 })
})

test('an outage that moves a closing moves the guests behind it', async () => {
  stage.clock.set(NOON + 59 * MINUTE)
  stage = await restart(stage, 6 * MINUTE)
  host = await stage.as('host')
  expect(await times()).toMatchObject({ lot: 74, 'Ines Abreu': 94 })
})
