import { afterEach, describe, expect, it } from 'vitest'
import { civilOf } from '#kernel/civil'
import { DAY, HOUR, type Instant, MINUTE } from '#kernel/instant'
import { listDays, presentDay } from '#people/campaign/stream-days.service'
import { civilParts } from '#sale/programme/civil-time.rules'
import { publicProgramme } from '#sale/programme/programme.service'
import { makeCampaign } from '#test/make/campaign'
import { makePreparedLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const ZONE = 'Europe/London'
const span = (from: Instant, hours = 4) => ({ opens: civilOf(from, ZONE), closes: civilOf(from + hours * HOUR, ZONE) })

/** A lot that everybody may see, and that has no closing yet. */
async function makeReadyLot(tag: string) {
  const lot = await makePreparedLot(stage, { tag })
  await (await stage.as('maker')).lots.publish({ lot: lot.number })
  return lot
}

async function openWithCampaign() {
  stage = openStage()
  await makeCampaign(stage)
  return { maker: await stage.as('maker'), later: stage.clock.now() + 30 * DAY }
}

describe('a further stream day', () => {
  it('comes after the first, and is the one at hand once the first has been over for half a day', async () => {
    const { maker, later } = await openWithCampaign()
    const [first] = listDays(stage.sight())
    await maker.programme.addDay(span(later))
    expect(listDays(stage.sight()).map(({ number, opensAt }) => [number, opensAt])).toEqual([
      [1, first.opensAt],
      [2, later],
    ])
    expect(presentDay(stage.sight()).number).toBe(1)
    stage.clock.set(first.closesAt + 12 * HOUR - 1)
    expect(presentDay(stage.sight()).number).toBe(1)
    stage.clock.set(first.closesAt + 12 * HOUR)
    expect(presentDay(stage.sight()).number).toBe(2)
    expect(publicProgramme(stage.sight())).toMatchObject({ number: 2, opensAt: later, others: [{ number: 1 }] })
    stage.clock.set(later + 30 * DAY)
    expect(presentDay(stage.sight()).number).toBe(2)
  })

  it('is refused in the past, before the first, over another one, too long, or ending before it begins', async () => {
    const { maker, later } = await openWithCampaign()
    const now = stage.clock.now()
    await maker.programme.addDay(span(later))
    expect(await refusedAt(maker.programme.addDay(span(now - HOUR)))).toHaveProperty('opens')
    expect((await refusedAt(maker.programme.addDay(span(now + HOUR)))).opens).toContain('runs into the stream day of Saturday 13 March')
    expect((await refusedAt(maker.programme.addDay(span(later + 4 * HOUR - 1 * MINUTE)))).opens).toContain('runs into the stream day of')
    expect((await refusedAt(maker.programme.addDay(span(later + 2 * DAY, 73)))).closes).toContain('at most 3 days')
    expect((await refusedAt(maker.programme.addDay(span(later + 2 * DAY, -1)))).closes).toContain('ends before it begins')
    await maker.programme.addDay(span(later + 4 * HOUR))
    expect(listDays(stage.sight())).toHaveLength(3)
  })

  it('keeps the first from reaching into it', async () => {
    const { maker } = await openWithCampaign()
    const [first] = listDays(stage.sight())
    await maker.programme.addDay(span(first.closesAt + 30 * MINUTE))
    expect((await refusedAt(maker.programme.endLater({ minutes: 31, reason: 'More to tell.' }))).minutes).toContain('The next stream day')
    await maker.programme.endLater({ minutes: 30, reason: 'More to tell.' })
    expect(listDays(stage.sight())[0].closesAt).toBe(first.closesAt + 30 * MINUTE)
  })

  it('moves nothing that was announced, and is announced for itself', async () => {
    const { maker, later } = await openWithCampaign()
    const one = await makeReadyLot('TERN-01')
    const two = await makeReadyLot('TERN-02')
    const at = stage.clock.now() + 2 * HOUR
    await maker.programme.plan({ kind: 'closing', lot: one.number, ...civilParts(at, ZONE), announce: true })
    const before = publicProgramme(stage.sight()).items
    await maker.programme.addDay(span(later))
    await maker.programme.plan({ kind: 'closing', lot: two.number, ...civilParts(later + HOUR, ZONE) })
    expect(publicProgramme(stage.sight())).toMatchObject({ number: 1, items: before, others: [{ items: [] }] })
    expect(await maker.programme.announce({ day: 1 })).toEqual({ announced: 0 })
    expect(await maker.programme.announce({ day: 2 })).toEqual({ announced: 1 })
    expect(publicProgramme(stage.sight())).toMatchObject({ items: before, others: [{ items: [{ lot: two.number }] }] })
  })

  it('has the closings that lie in it, each in one day alone, and a time outside of all says when the stream runs', async () => {
    const { maker, later } = await openWithCampaign()
    await maker.programme.addDay(span(later))
    const lot = await makeReadyLot('TERN-01')
    const refused = await refusedAt(
      maker.programme.plan({ kind: 'closing', lot: lot.number, ...civilParts(later - DAY, ZONE), announce: true }),
    )
    expect(refused.at).toMatch(/^The stream runs on Saturday 13 March, .* and on Monday 12 April, .* Choose a time inside it\.$/)
    await maker.programme.plan({ kind: 'closing', lot: lot.number, ...civilParts(later + HOUR, ZONE), announce: true })
    const days = await Promise.all([1, 2].map((day) => maker.programme.day({ day })))
    expect(days.map((day) => day?.items.map((item) => item.lot))).toEqual([[], [lot.number]])
    const item = days[1]?.items[0]?.id ?? ''
    expect((await maker.programme.day({ item }))?.number).toBe(2)
    expect((await maker.planning.present({ day: 1 }))?.lots).toEqual([])
  })

  it('cannot be taken away while anything stands in it, and says what does; nor moved so that it has no room', async () => {
    const { maker, later } = await openWithCampaign()
    await maker.programme.addDay(span(later))
    const lot = await makeReadyLot('TERN-01')
    const { itemId } = await maker.programme.plan({ kind: 'closing', lot: lot.number, ...civilParts(later + HOUR, ZONE) })
    expect((await refusedAt(maker.programme.removeDay({ day: 2 }))).day).toContain(`Lot ${lot.number}`)
    expect((await refusedAt(maker.programme.moveDay({ day: 2, ...span(later + 2 * HOUR) }))).opens).toContain(`Lot ${lot.number}`)
    expect((await refusedAt(maker.programme.moveDay({ day: 2, ...span(later, 0.5) }))).closes).toContain(`Lot ${lot.number}`)
    await maker.programme.moveDay({ day: 2, ...span(later - HOUR, 2) })
    expect(listDays(stage.sight())[1]).toMatchObject({ opensAt: later - HOUR, closesAt: later + HOUR })
    await maker.programme.remove({ itemId })
    await maker.programme.removeDay({ day: 2 })
    expect(listDays(stage.sight())).toHaveLength(1)
  })

  it('is planned for itself: lots of another day stay where they are', async () => {
    const { maker, later } = await openWithCampaign()
    await maker.programme.addDay(span(later, 8))
    const [one, two] = [await makeReadyLot('TERN-01'), await makeReadyLot('TERN-02')]
    await maker.programme.plan({ kind: 'closing', lot: one.number, ...civilParts(stage.clock.now() + 2 * HOUR, ZONE) })
    // What was wished for the hours of another day is no wish for this one.
    await maker.planning.wish({ lot: two.number, kind: 'not-after', ...civilParts(stage.clock.now() + 3 * HOUR, ZONE), isPin: true })
    expect((await maker.planning.present({ day: 2 }))?.wishes).toEqual([])
    expect((await maker.planning.present({ day: 1 }))?.wishes).toHaveLength(1)
    await maker.planning.start({ day: 2, before: 10, after: 5, allowance: 10, likeApart: 0, best: 70 })
    await expect.poll(async () => (await maker.planning.present({ day: 2 }))?.running?.state).toBe('done')
    expect((await maker.planning.present({ day: 1 }))?.running).toBeNull()
    expect((await maker.planning.present({ day: 2 }))?.planned.map(({ lot }) => lot)).toEqual([two.number])
    await maker.planning.adopt()
    const at = (await maker.programme.day({ day: 2 }))?.items[0]?.startsAt ?? 0
    expect(at).toBeGreaterThan(later)
    expect(at).toBeLessThan(later + 8 * HOUR)
  })
})
