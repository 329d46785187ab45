import { afterEach, beforeEach, expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { civilParts } from '#sale/programme/civil-time.rules'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let host: Awaited<ReturnType<Stage['as']>>
beforeEach(async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage, { closesIn: HOUR })
  host = await stage.as('host')
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  const at = (minutes: number) => civilParts(NOON + minutes * MINUTE, zone)
  await host.programme.plan({ kind: 'closing', lot: number, ...at(60), announce: true })
  await host.programme.plan({ kind: 'guest', title: 'Ines Abreu', ...at(80), minutes: '30', announce: true })
  await host.programme.plan({ kind: 'break', title: 'Tea', ...at(75), minutes: '5', announce: true })
})
afterEach(() => stage.close())

const closing = async () => {
  const item = (await host.programme.day())?.items.find(({ kind }) => kind === 'closing')
  if (!item) throw new Error('the day has a closing')
  return item
}

test('a change shows what it would move and who must be told, and then does it and tells them', async () => {
  const ada = await makeBidder(stage, 'Ada')
  await ada.bid(1, '30')
  const { id } = await closing()
  const change = { kind: 'later', itemId: id, minutes: 15 } as const
  const { shifts } = await host.planning.previewChange({ change })
  expect(shifts).toMatchObject([
    { title: expect.stringContaining('Lot 1'), to: NOON + 75 * MINUTE, bidders: 1, isAnnounced: true },
    { kind: 'break', to: NOON + 80 * MINUTE },
    { kind: 'guest', to: NOON + 85 * MINUTE },
  ])
  const before = stage.letters().length
  await host.planning.applyChange({
    change,
    reason: 'The guest before it is late.',
    shown: shifts.map((one) => ({ id: one.id, to: one.to })),
  })
  expect((await closing()).runsTo).toBe(NOON + 75 * MINUTE)
  const [letter] = (await gathered(stage)).slice(before)
  expect(letter).toMatchObject({ recipient: 'ada@bidder.example', subject: expect.stringContaining('closes at') })
  expect(letter?.body).toContain('The guest before it is late.')
})

test('when the day has moved on since it was shown, nothing is moved', async () => {
  const { id } = await closing()
  const change = { kind: 'later', itemId: id, minutes: 15 } as const
  await expect(host.planning.applyChange({ change, reason: 'late', shown: [] })).rejects.toThrow('moved on')
  expect((await closing()).runsTo).toBe(NOON + 60 * MINUTE)
})

test('a guest who is late takes along the closing that was wished with the guest', async () => {
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  const at = civilParts(NOON + 40 * MINUTE, zone)
  const { itemId } = await host.programme.plan({ kind: 'guest', title: 'Imre Vass', ...at, minutes: '30', announce: true })
  const moved = async () =>
    (await host.planning.previewChange({ change: { kind: 'later', itemId, minutes: 10 } })).shifts.map(({ kind }) => kind)
  expect(await moved()).not.toContain('closing')
  await host.planning.wish({ lot: 1, kind: 'guest', guest: itemId, isPin: true })
  expect(await moved()).toContain('closing')
})

test('nothing is moved after the end of the stream on the day itself', async () => {
  const { closesAt, zone } = (await host.programme.day()) ?? { closesAt: 0, zone: 'UTC' }
  const at = civilParts(closesAt - 20 * MINUTE, zone)
  const { itemId } = await host.programme.plan({ kind: 'guest', title: 'The last guest', ...at, minutes: '20', announce: true })
  const change = { kind: 'later', itemId, minutes: 5 } as const
  const { shifts, beyondEnd, streamEndsAt, endsAt } = await host.planning.previewChange({ change })
  expect([beyondEnd, streamEndsAt, endsAt]).toEqual([['The last guest'], closesAt, closesAt + 5 * MINUTE])
  const shown = shifts.map(({ id, to }) => ({ id, to }))
  await expect(host.planning.applyChange({ change, reason: 'late', shown })).rejects.toThrow('after the end')
  // In one go with a later end it is done; an end that is not late enough moves nothing, the end neither.
  await expect(host.planning.applyChange({ change, reason: 'late', shown, chosen: { endsLater: 4 } })).rejects.toThrow('after the end')
  expect((await host.programme.day())?.closesAt).toBe(closesAt)
  await host.planning.applyChange({ change, reason: 'late', shown, chosen: { endsLater: 5 } })
  expect((await host.programme.day())?.closesAt).toBe(closesAt + 5 * MINUTE)
  expect((await host.programme.day())?.items.at(-1)?.endsAt).toBe(closesAt + 5 * MINUTE)
})

test('two that a late bid brought near each other move together, and are not refused for it', async () => {
  const { number } = await makeOpenLot(stage, { tag: 'WREN-02', closesIn: 40 * MINUTE })
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  await host.programme.plan({ kind: 'closing', lot: number, ...civilParts(NOON + 45 * MINUTE, zone), announce: true })
  const ada = await makeBidder(stage, 'Ada')
  stage.clock.set(NOON + 44.5 * MINUTE)
  await ada.bid(number, '30')
  const change = { kind: 'all-later', minutes: 10 } as const
  const { shifts } = await host.planning.previewChange({ change })
  expect(shifts.slice(0, 2).map(({ to }) => (to - NOON) / MINUTE)).toEqual([56.5, 70])
  await host.planning.applyChange({ change, reason: 'late', shown: shifts.map(({ id, to }) => ({ id, to })) })
  expect((await closing()).runsTo).toBe(NOON + 56.5 * MINUTE)
})

test('what a change would throw far is a problem with choices: fewer minutes, dropping what is in the way, or letting it', async () => {
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  const at = civilParts(NOON + 110 * MINUTE, zone)
  const { itemId: tea } = await host.programme.plan({ kind: 'break', title: 'Supper', ...at, minutes: '40', keepsTime: true })
  const { number } = await makeOpenLot(stage, { tag: 'WREN-02', closesIn: 101 * MINUTE })
  const { itemId } = await host.programme.plan({ kind: 'closing', lot: number, ...civilParts(NOON + 101 * MINUTE, zone), announce: true })
  const change = { kind: 'later', itemId, minutes: 10 } as const
  const minute = (to: number) => (to - NOON) / MINUTE
  const thrown = await host.planning.previewChange({ change })
  expect(thrown.shifts.map(({ to }) => minute(to))).toEqual([160])
  expect([thrown.thrown.map(({ past }) => past?.title), thrown.fits]).toEqual([['Supper'], 4])
  const without = await host.planning.previewChange({ change, chosen: { drop: [tea] } })
  expect([without.thrown, without.fits, without.shifts.map(({ to }) => minute(to))]).toEqual([[], null, [111]])
  const apply = (seen: typeof thrown, chosen: { drop?: string[]; accepted?: string[] }) =>
    host.planning.applyChange({ change, reason: 'late', shown: seen.shifts.map(({ id, to }) => ({ id, to })), chosen })
  await expect(apply(thrown, {})).rejects.toThrow('would be thrown past Supper')
  await apply(without, { drop: [tea] })
  const day = await host.programme.day()
  expect(day?.items.some(({ id }) => id === tea)).toBe(false)
  expect(minute(day?.items.find(({ id }) => id === itemId)?.runsTo ?? 0)).toBe(111)
})

test('something swapped with itself is refused at its field', async () => {
  const { id } = await closing()
  await expect(host.planning.previewChange({ change: { kind: 'swap', firstId: id, secondId: id } })).rejects.toThrow('another one')
})
