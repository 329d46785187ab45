import { afterEach, describe, expect, it } from 'vitest'
import { listLeft } from '#end/close-out/what-is-left.service'
import { civilOf } from '#kernel/civil'
import { DAY, HOUR, MINUTE } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { getPhotographs } from '#sale/lots/lots.service'
import { civilParts } from '#sale/programme/civil-time.rules'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const ZONE = 'Europe/London'

/** A lot on which nobody bid, half an hour after it ended. */
async function unsold() {
  stage = openStage()
  const { number, unitId } = await makeOpenLot(stage, { closesIn: 30 * MINUTE })
  stage.clock.pass(HOUR)
  await stage.command(closeDueLots)
  return { number, unitId, maker: await stage.as('maker'), treasurer: await stage.as('treasurer') }
}

describe('what is left', () => {
  it('goes in one step into a new lot that says and shows the same, with its closing on another stream day', async () => {
    const { number, unitId, maker } = await unsold()
    const later = stage.clock.now() + 30 * DAY
    await maker.programme.addDay({ opens: civilOf(later, ZONE), closes: civilOf(later + 4 * HOUR, ZONE) })
    const made = await maker.closeOut.sellAnew({ key: formKey(), lot: number, ...civilParts(later + HOUR, ZONE) })
    const lots = await maker.lots.all()
    expect(lots.map((lot) => [lot.number, lot.unitId, lot.state, lot.title])).toEqual([
      [number, unitId, 'unsold', 'Saltmarsh shortwave receiver'],
      [made.number, unitId, 'ready', 'Saltmarsh shortwave receiver'],
    ])
    expect(lots[1]).toMatchObject({ openingMinor: 2_000, likelyMinor: 18_000, closesAt: later + HOUR })
    expect(getPhotographs(stage.sight(), lots[1]?.id ?? '')).toEqual(getPhotographs(stage.sight(), lots[0]?.id ?? ''))
    expect((await maker.programme.day({ day: 2 }))?.items).toMatchObject([{ lot: made.number, isAnnounced: false }])
    expect(listLeft(stage.sight())).toEqual([])
  })

  it('is sold there and counts once: in one lot, one day, one price', async () => {
    const { number, maker, treasurer } = await unsold()
    const later = stage.clock.now() + 30 * DAY
    await maker.programme.addDay({ opens: civilOf(later, ZONE), closes: civilOf(later + 4 * HOUR, ZONE) })
    const made = await maker.closeOut.sellAnew({ key: formKey(), lot: number, ...civilParts(later + HOUR, ZONE) })
    await maker.programme.announce({ day: 2 })
    await maker.bidding.open({ lot: made.number })
    const ada = await makeBidder(stage, 'Ada')
    stage.clock.set(later + 30 * MINUTE)
    await ada.bid(made.number, '90')
    stage.clock.set(later + 2 * HOUR)
    await stage.command(closeDueLots)
    const books = await treasurer.books.all()
    expect(books?.statement.lots.filter(({ hammerMinor }) => hammerMinor > 0).map((lot) => lot.number)).toEqual([made.number])
    expect(books?.meter).toMatchObject({ wonMinor: 2_000, lots: { sold: 1, unsold: 1 } })
    const present = await maker.pictures.day()
    const before = await maker.pictures.daysBefore()
    expect([present, ...before].map((day) => day?.closes.map(({ lot, hammerMinor }) => [lot, hammerMinor]))).toEqual([
      [[made.number, 2_000]],
      [[number, null]],
    ])
  })

  it('is left to the planner without a time, and asks for the other half where only one is given', async () => {
    const { number, maker } = await unsold()
    expect(await refusedAt(maker.closeOut.sellAnew({ key: formKey(), lot: number, on: '2027-04-12' }))).toHaveProperty('at')
    expect(await refusedAt(maker.closeOut.sellAnew({ key: formKey(), lot: number, at: '19:00' }))).toHaveProperty('on')
    const key = formKey()
    const made = await maker.closeOut.sellAnew({ key, lot: number })
    expect(await maker.closeOut.sellAnew({ key, lot: number })).toEqual(made)
    expect((await maker.programme.day())?.unplanned.map((lot) => lot.number)).toEqual([made.number])
    expect(await refusedAt(maker.closeOut.sellAnew({ key: formKey(), lot: number }))).toHaveProperty('lot')
  })

  it('is kept, and nothing more is asked of it; a price or a new lot undoes that', async () => {
    const { number, maker, treasurer } = await unsold()
    const point = async () => (await maker.closeOut.checklist())?.find(({ key }) => key === 'left')
    expect((await point())?.words).toContain(`Nobody has lot ${number}`)
    await maker.lots.afterwards({ lot: number, as: 'kept' })
    expect(await point()).toBeUndefined()
    expect(await maker.closeOut.left()).toMatchObject([{ lot: number, afterwards: 'kept' }])
    await treasurer.fixedPrice.offer({ key: formKey(), lot: number, amount: '80', lastDay: '', cancelWords: 'Write to us.' })
    expect(await maker.closeOut.left()).toMatchObject([{ lot: number, afterwards: '', standing: { priceMinor: 8_000 } }])
    expect((await refusedAt(maker.closeOut.sellAnew({ key: formKey(), lot: number }))).unit).toContain('Take that back first')
    await treasurer.fixedPrice.takeBack({ key: formKey(), lot: number })
    await maker.lots.afterwards({ lot: number, as: 'kept' })
    await maker.closeOut.sellAnew({ key: formKey(), lot: number })
    expect((await maker.lots.all())[0]).not.toHaveProperty('afterwards')
  })
})
