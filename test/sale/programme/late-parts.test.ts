import { afterEach, expect, test } from 'vitest'
import { HOUR } from '#kernel/instant'
import { civilParts } from '#sale/programme/civil-time.rules'
import { makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

test('a lot whose machine lacks what nobody has promised is named with what it lacks; one whose parts are there is not', async () => {
  stage = openStage()
  await makeCampaign(stage)
  const { tags } = await makeBench(stage)
  const maker = await stage.as('maker')
  const zone = (await maker.programme.day())?.zone ?? 'UTC'
  const put = async (unit: string, hours: number) => {
    const { number } = await maker.lots.start({ unit })
    await maker.programme.plan({ kind: 'closing', lot: number, ...civilParts(NOON + hours * HOUR, zone) })
    return number
  }
  await put(tags[0] ?? '', 2)
  expect(await maker.programme.lateParts()).toEqual([])

  // One of a design of which no part is on the shelf.
  const other = (await maker.designs.list()).find(({ key }) => key === 'tidemill-lc6')
  const { tags: bare } = await maker.bringup.makeRun({ designId: other?.id ?? '', tagPrefix: 'WREN', count: 1 })
  const late = await put(bare[0] ?? '', 4)
  const found = await maker.programme.lateParts()
  expect(found.map(({ lot, unit, isAnnounced }) => [lot, unit, isAnnounced])).toEqual([[late, 'WREN-01', false]])
  expect(found[0]?.parts.join()).toMatch(/6 × .*amber/)

  // Announcing asks, whichever way it is done, and nothing is announced until it was answered.
  await expect(maker.programme.announce()).rejects.toThrow(/Lot 2 may not be ready: WREN-01 lacks .*amber/)
  expect((await maker.programme.day())?.unannounced).toBe(2)
  expect(await maker.programme.announce({ evenIfLate: true })).toEqual({ announced: 2 })
  const { tags: another } = await maker.bringup.makeRun({ designId: other?.id ?? '', tagPrefix: 'ROOK', count: 1 })
  const { number: third } = await maker.lots.start({ unit: another[0] ?? '' })
  const item = { kind: 'closing', lot: third, ...civilParts(NOON + 6 * HOUR, zone), announce: true } as const
  expect((await maker.programme.lateParts()).map(({ lot, itemId }) => [lot, itemId === null])).toEqual([
    [late, false],
    [third, true],
  ])
  await expect(maker.programme.plan(item)).rejects.toMatchObject({ message: expect.stringContaining('ROOK-01 lacks') })
  expect((await maker.programme.day())?.items).toHaveLength(2)
  await maker.programme.plan({ ...item, evenIfLate: true })
  expect((await maker.programme.day())?.unannounced).toBe(0)
})
