import { afterEach, beforeEach, expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { civilParts } from '#sale/programme/civil-time.rules'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let host: Awaited<ReturnType<Stage['as']>>
const at = (minutes: number) => civilParts(NOON + minutes * MINUTE, 'Europe/London')
beforeEach(async () => {
  stage = openStage()
  await makeOpenLot(stage, { closesIn: 40 * MINUTE })
  host = await stage.as('host')
  await host.programme.plan({ kind: 'closing', lot: 1, ...at(40), announce: true })
})
afterEach(() => stage.close())

/** A lot that is prepared and planned, and that nobody has been told of. */
async function planDraft(minutes: number, more: { announce?: boolean; evenIfSoon?: boolean } = {}) {
  const maker = await stage.as('maker')
  const { tags } = await maker.bringup.makeRun({ designId: (await maker.designs.list())[0]?.id ?? '', tagPrefix: 'WREN', count: 1 })
  const { number } = await maker.lots.start({ unit: tags[0] ?? '' })
  await maker.programme.plan({ kind: 'closing', lot: number, ...at(minutes), evenIfLate: true, ...more })
}
const unannounced = async () => (await host.programme.day())?.unannounced

test('a closing whose ten minutes have begun is announced only when it was asked about', async () => {
  await planDraft(60)
  stage.clock.set(NOON + 52 * MINUTE)
  await expect(host.programme.announce({ evenIfLate: true })).rejects.toThrow(/at 13:00, in 8 minutes: nobody has had notice/)
  expect(await unannounced()).toBe(1)
  await host.programme.announce({ evenIfLate: true, evenIfSoon: true })
  expect(await unannounced()).toBe(0)
})

test('one that a late bid has brought another near is asked about too, and one with room is not', async () => {
  await planDraft(55)
  stage.clock.set(NOON + 39.5 * MINUTE)
  await (await makeBidder(stage, 'Ada')).bid(1, '30')
  await expect(host.programme.announce({ evenIfLate: true })).rejects.toThrow(/too near Lot 1.*closes at 12:41 now/)
  const itemId = (await host.programme.day())?.items.at(-1)?.id ?? ''
  await host.programme.move({ itemId, ...at(57) })
  expect(await host.programme.announce({ evenIfLate: true })).toEqual({ announced: 1 })
})

test('what is put into the day and announced at once is asked about as well', async () => {
  stage.clock.set(NOON + HOUR)
  await expect(planDraft(68, { announce: true })).rejects.toThrow('in 8 minutes')
  expect(await unannounced()).toBe(0)
})

test('to be asked once more is no failure of the house', async () => {
  await planDraft(60)
  stage.clock.set(NOON + 52 * MINUTE)
  await expect(host.programme.announce({ evenIfLate: true })).rejects.toMatchObject({ cause: { code: 'conflict' } })
})
