import { afterEach, beforeEach, expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { civilParts } from '#sale/programme/civil-time.rules'
import { playManyDays } from '#sale/simulation/many-days.rules'
import { type DayQuestion, DEFAULT_LIKELY } from '#sale/simulation/simulation.contract'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

const FIGURES = {
  days: '200',
  ofTen: '3',
  left: '80',
  guestPercent: '30',
  guestMinutes: '6',
  lostHours: '20',
  lostMinutes: '5',
  allowance: '10',
}

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

/** An open lot that closes within the hour and stands in the programme. */
async function planLot() {
  const { number } = await makeOpenLot(stage, { closesIn: HOUR })
  const host = await stage.as('host')
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  await host.programme.plan({ kind: 'closing', lot: number, ...civilParts(NOON + HOUR, zone) })
  return { host, number }
}

const done = async (host: Awaited<ReturnType<Stage['as']>>) => {
  for (let tries = 0; tries < 50; tries++) {
    const present = await host.simulation.present()
    if (present?.state === 'done') return present
    await new Promise((resolve) => setImmediate(resolve))
  }
  throw new Error('the day was not played')
}

test('the host has the day played and reads how often each closing is late', async () => {
  const { host, number } = await planLot()
  await host.simulation.start(FIGURES)
  const { risk, isStale } = await done(host)
  expect(risk?.closings.map(({ lot }) => lot)).toEqual([number])
  expect(risk?.dayOver.of).toBe(200)
  expect(isStale).toBe(false)
})

test('a lot that more people follow is expected to be later', async () => {
  const { host } = await planLot()
  await host.simulation.start(FIGURES)
  await (await makeBidder(stage, 'Fay')).bid(1, '30')
  await host.simulation.start(FIGURES)
  const alone = (await done(host)).risk?.closings[0]?.delayMs ?? 0
  for (const name of ['Ada', 'Bo', 'Cy', 'Di', 'Eli']) await (await makeBidder(stage, name)).bid(1, '30').catch(() => {})
  await host.simulation.start(FIGURES)
  expect((await done(host)).risk?.closings[0]?.delayMs ?? 0).toBeGreaterThan(alone)
})

test('while nobody follows anything, interest is taken from watchers and estimates, and that is said', async () => {
  const { host } = await planLot()
  const delay = async (watchers: string) => {
    await host.simulation.start({ ...FIGURES, watchers })
    const { risk, basis, parts } = await done(host)
    expect({ basis, parts }).toEqual({ basis: 'estimates', parts: 1 })
    return risk?.closings[0]?.delayMs ?? 0
  }
  expect(await delay('400')).toBeGreaterThan(await delay('40'))
  await (await makeBidder(stage, 'Ada')).bid(1, '30')
  await host.simulation.start({ ...FIGURES, watchers: '400' })
  expect((await done(host)).basis).toBe('followers')
})

test('figures of a day that was changed since are said to be old', async () => {
  const { host } = await planLot()
  await host.simulation.start(FIGURES)
  await done(host)
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  await host.programme.plan({ kind: 'break', title: 'Tea', ...civilParts(NOON + 2 * HOUR, zone), minutes: '10' })
  expect((await host.simulation.present())?.isStale).toBe(true)
})

test('a day without a closing to come is refused in words', async () => {
  await makeOpenLot(stage, { closesIn: HOUR })
  const host = await stage.as('host')
  await expect(host.simulation.start(FIGURES)).rejects.toThrow('No closing is still to come')
})

const DAY: DayQuestion = {
  from: NOON,
  closesAt: NOON + 5 * HOUR,
  closings: [
    { lot: 1, at: NOON + HOUR, lateBids: 1 },
    { lot: 2, at: NOON + HOUR + 20 * MINUTE, lateBids: 1 },
  ],
  spans: [],
  basis: 'followers',
  likely: DEFAULT_LIKELY,
  days: 500,
  seed: 4,
}

test('the same day and the same seed have the same answer, another seed has another', () => {
  expect(playManyDays(DAY)).toEqual(playManyDays(DAY))
  expect(playManyDays({ ...DAY, seed: 5 })).not.toEqual(playManyDays(DAY))
})

test('every day is counted once in the spread of a closing, and the last never collides with nothing', () => {
  const { closings } = playManyDays(DAY)
  for (const { spread } of closings) expect(spread.reduce((sum, count) => sum + count, 0)).toBe(500)
  expect(closings[1]?.collides.times).toBe(0)
})

test('a hold makes nothing collide but what is thrown past a break that keeps its time', () => {
  const lost = { ...DEFAULT_LIKELY, guestOver: { share: 0, meanMs: 1 }, lost: { perHour: 1, meanMs: 10 * MINUTE } }
  const quiet = DAY.closings.map((one) => ({ ...one, lateBids: 0 }))
  const tea = { kind: 'break', title: 'Tea', from: NOON + HOUR + 26 * MINUTE, to: NOON + 2 * HOUR } as const
  const play = (keepsTime: boolean) => playManyDays({ ...DAY, closings: quiet, spans: [{ ...tea, keepsTime }], likely: lost }).anyCollision
  expect(play(false).times).toBe(0)
  expect(play(true).times).toBeGreaterThan(0)
})
