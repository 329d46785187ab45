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

/** A long break instead of the guest, before tea that keeps its time. */
const lunchForInes = async () => {
  const ines = (await host.programme.day())?.items.find(({ kind }) => kind === 'guest')
  await host.programme.remove({ itemId: ines?.id ?? '' })
  return host.programme.plan({ kind: 'break', title: 'Lunch', ...at(66), minutes: '60', announce: true })
}

const times = async () =>
  Object.fromEntries(
    ((await host.programme.day())?.items ?? []).map(({ title, kind, runsTo, startsAt }) => [
      kind === 'closing' ? 'lot' : title,
      ((kind === 'closing' ? runsTo : startsAt) - NOON) / MINUTE,
    ]),
  )

test('after a hold what stands in the way moves, the rest stays where it was announced, and bidders are told', async () => {
  await (await makeBidder(stage, 'Ada')).bid(1, '30')
  stage.clock.set(NOON + 58 * MINUTE)
  await host.programme.holdAll({ reason: 'The stream was lost.' })
  stage.clock.set(NOON + 68 * MINUTE)
  const before = stage.letters().length
  const shown = await host.planning.previewResume()
  expect(shown?.notice).toBe('No closing is left with less than 15 minutes.')
  await host.programme.resumeAll()
  expect(await times()).toEqual({ lot: 83, 'Ines Abreu': 80, Tea: 130 })
  expect(shown?.shifts.map(({ to }) => (to - NOON) / MINUTE)).toEqual([83])
  expect((await gathered(stage)).slice(before).map(({ recipient, body }) => [recipient, body.includes('The stream was lost.')])).toEqual([
    ['ada@bidder.example', true],
  ])
})

test('a hold with time enough behind it moves nothing at all', async () => {
  stage.clock.set(NOON + 10 * MINUTE)
  await host.programme.holdAll({ reason: 'The stream was lost.' })
  stage.clock.set(NOON + 30 * MINUTE)
  expect((await host.planning.previewResume())?.shifts).toEqual([])
  await host.programme.resumeAll()
  expect(await times()).toEqual({ lot: 60, 'Ines Abreu': 80, Tea: 130 })
})

test('what a hold would throw past something that keeps its time goes nowhere until it is chosen', async () => {
  const { itemId } = await lunchForInes()
  stage.clock.set(NOON + 59 * MINUTE)
  await host.programme.holdAll({ reason: 'Sound.' })
  stage.clock.set(NOON + 64 * MINUTE)
  expect((await host.planning.previewResume())?.thrown).toMatchObject([{ id: itemId, title: 'Lunch', past: { title: 'Tea' } }])
  await expect(host.programme.resumeAll()).rejects.toThrow('Lunch would move past Tea')
  expect(await times()).toMatchObject({ lot: 60, Lunch: 66 })
  await host.programme.resumeAll({ accepted: [itemId] })
  expect(await times()).toMatchObject({ lot: 79, Lunch: 140 })
})

test('what is chosen about the day is shown, taken back at will, and done with going on only', async () => {
  await lunchForInes()
  const tea = (await host.programme.day())?.items.find(({ title }) => title === 'Tea')?.id ?? ''
  stage.clock.set(NOON + 59 * MINUTE)
  await host.programme.holdAll({ reason: 'Sound.' })
  stage.clock.set(NOON + 64 * MINUTE)
  const without = await host.planning.previewResume({ drop: [tea] })
  expect([without?.thrown, without?.shifts.map(({ to }) => (to - NOON) / MINUTE)]).toEqual([[], [79, 84]])
  expect((await host.planning.previewResume())?.thrown).toHaveLength(1)
  expect(await times()).toMatchObject({ lot: 60, Lunch: 66, Tea: 130 })
  const { closesAt } = (await host.programme.day()) ?? { closesAt: 0 }
  await host.programme.resumeAll({ drop: [tea], endsLater: 20 })
  expect(await times()).toEqual({ lot: 79, Lunch: 84 })
  expect((await host.programme.day())?.closesAt).toBe(closesAt + 20 * MINUTE)
})

test('choices about a day that cannot go on with them change nothing', async () => {
  await lunchForInes()
  stage.clock.set(NOON + 59 * MINUTE)
  await host.programme.holdAll({ reason: 'Sound.' })
  stage.clock.set(NOON + 64 * MINUTE)
  const before = (await host.programme.day())?.closesAt
  await expect(host.programme.resumeAll({ endsLater: 20 })).rejects.toThrow('would move past')
  expect((await host.programme.day())?.closesAt).toBe(before)
})

test('a hold that is taken back at once costs the clocks no more than itself', async () => {
  stage.clock.set(NOON + 57 * MINUTE)
  await host.programme.holdAll({ reason: 'A slip.' })
  stage.clock.set(NOON + 57 * MINUTE + 10_000)
  expect((await host.planning.previewResume())?.notice).toContain('goes on with what was left')
  await host.programme.resumeAll()
  expect((await times()).lot).toBeCloseTo(60 + 1 / 6, 5)
})

test('what an outage would throw stays in the way of the closing, and the host is told', async () => {
  const { itemId } = await lunchForInes()
  stage.clock.set(NOON + 59 * MINUTE)
  stage = await restart(stage, 5 * MINUTE)
  host = await stage.as('host')
  expect(await times()).toMatchObject({ lot: 79, Lunch: 66 })
  expect((await host.programme.day())?.items.some(({ id }) => id === itemId)).toBe(true)
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
  stage.clock.set(NOON + 50 * MINUTE)
  await host.programme.hold({ lot: 1, reason: 'A reading is looked at again.' })
  stage.clock.set(NOON + 56 * MINUTE)
  await host.programme.resume({ lot: 1 })
  expect(await times()).toEqual({ lot: 71, Air: 76, 'Ines Abreu': 81, Tea: 130 })
})

test('an outage that moves a closing moves the break behind it', async () => {
  await host.programme.plan({ kind: 'break', title: 'Air', ...at(65), minutes: '10', announce: true })
  stage.clock.set(NOON + 59 * MINUTE)
  stage = await restart(stage, 6 * MINUTE)
  host = await stage.as('host')
  expect(await times()).toMatchObject({ lot: 80, Air: 85, 'Ines Abreu': 95 })
})

test('a guest is cut short with a reason, but not below what is worth planning nor into the past', async () => {
  const ines = (await host.programme.day())?.items.find(({ kind }) => kind === 'guest')
  const itemId = ines?.id ?? ''
  await expect(host.programme.shorten({ itemId, minutes: '26', reason: 'Late.' })).rejects.toThrow('leaves less than 5 minutes')
  await host.programme.shorten({ itemId, minutes: '10', reason: 'The day runs late.' })
  const after = (await host.programme.day())?.items.find(({ id }) => id === itemId)
  expect((after?.endsAt ?? 0) - (ines?.endsAt ?? 0)).toBe(-10 * MINUTE)
  stage.clock.set(NOON + 98 * MINUTE)
  await expect(host.programme.shorten({ itemId, minutes: '5', reason: 'Late.' })).rejects.toThrow('ends it before now')
})

test('a guest is kept longer as far as nothing stands in the way, and everybody reads until when', async () => {
  const ines = (await host.programme.day())?.items.find(({ kind }) => kind === 'guest')
  const itemId = ines?.id ?? ''
  const longer = (minutes: string) => host.programme.lengthen({ itemId, minutes, reason: 'There is time for more.' })
  await expect(longer('60')).rejects.toThrow('Tea takes its time from')
  await longer('10')
  const after = (await host.programme.day())?.items.find(({ id }) => id === itemId)
  expect(after && [after.startsAt, after.endsAt - (ines?.endsAt ?? 0)]).toEqual([ines?.startsAt, 10 * MINUTE])
  const { changes } = (await stage.visitor().programme.changes()) ?? { changes: [] }
  expect(changes[0]).toMatchObject({ kind: 'ends', from: ines?.endsAt, to: after?.endsAt, why: 'There is time for more.' })
  await host.programme.shorten({ itemId, minutes: '10', reason: 'The day runs late.' })
  expect((await stage.visitor().programme.changes())?.changes[0]).toMatchObject({ kind: 'ends', from: after?.endsAt, to: ines?.endsAt })
  stage.clock.set(ines?.endsAt ?? 0)
  await expect(longer('5')).rejects.toThrow('over already')
})

test('the end of the stream moves later, and everybody reads why', async () => {
  const { closesAt } = (await host.programme.day()) ?? { closesAt: 0 }
  expect(await host.programme.endLater({ minutes: '30', reason: 'The day takes longer.' })).toEqual({ endsAt: closesAt + 30 * MINUTE })
  expect((await stage.visitor().programme.open())?.closesAt).toBe(closesAt + 30 * MINUTE)
  const { changes } = (await stage.visitor().programme.changes()) ?? { changes: [] }
  expect(changes[0]).toMatchObject({
    kind: 'moved',
    title: 'The end of the stream',
    to: closesAt + 30 * MINUTE,
    why: 'The day takes longer.',
  })
  await expect(host.programme.endLater({ minutes: '0', reason: 'x' })).rejects.toThrow('from 1 to 240')
})

test('a lot that is sold elsewhere runs on through a hold of all clocks, everywhere that says so, and no change of the day moves it', async () => {
  const form = { soldWhere: 'elsewhere', elsewhereUrl: 'https://hammer.oakhall.example/lot-9' }
  const { number } = await makeOpenLot(stage, { tag: 'WREN-01', closesIn: 40 * MINUTE, form })
  const { itemId } = await host.programme.plan({ kind: 'closing', lot: number, ...at(40), announce: true })
  const elsewhere = async () => (await host.programme.day())?.items.find(({ id }) => id === itemId)
  expect(await host.planning.previewHold()).toEqual({ lots: 1, runOn: [number], bidders: 0 })
  stage.clock.set(NOON + 10 * MINUTE)
  expect(await host.programme.holdAll({ reason: 'The stream was lost.' })).toEqual({ held: 1 })
  expect(await elsewhere()).toMatchObject({ isSoldElsewhere: true, isHeld: false, heldSince: null })
  const shown = (await host.programme.day())?.items.filter(({ isHeld }) => isHeld).map(({ lot }) => lot)
  expect(shown).toEqual([1])
  stage.clock.set(NOON + 20 * MINUTE)
  await host.programme.resumeAll()
  expect((await elsewhere())?.runsTo).toBe(NOON + 40 * MINUTE)
  await expect(host.planning.previewChange({ change: { kind: 'later', itemId, minutes: 5 } })).rejects.toThrow('is sold elsewhere')
  const { shifts } = await host.planning.previewChange({ change: { kind: 'all-later', minutes: 5 } })
  expect(shifts.map(({ id }) => id)).not.toContain(itemId)
})
