import { afterEach, describe, expect, it } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { planClosing } from '#sale/closings/closings.service'
import { holdClosings, resumeClosings } from '#sale/closings/holds.service'
import { makeCampaign } from '#test/make/campaign'
import { makeBidder, makePreparedLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const DAY = '2027-03-13'
const clock = (at: string) => Date.parse(`${DAY}T${at}:00Z`)

/** Noon; the stream opened at 08:00 and closes at 20:00; lot 1 is prepared and has no closing. */
async function openDay() {
  stage = openStage()
  const { number } = await makePreparedLot(stage, { closesIn: HOUR })
  await stage.command((turn) => planClosing(turn, number, null))
  const maker = await stage.as('maker')
  const plan = (at: string, more: object = {}) => maker.programme.plan({ kind: 'closing', lot: number, on: DAY, at, ...more })
  const guest = (at: string, more: object = {}) =>
    maker.programme.plan({ kind: 'guest', title: 'Ines Abreu', on: DAY, at, minutes: '30', ...more })
  return { maker, number, plan, guest }
}

describe('planning a closing', () => {
  it('sets the clock of its lot, and the lot’s page and the programme agree', async () => {
    const { plan, maker } = await openDay()
    await plan('14:00', { announce: true })
    expect((await maker.lots.all())[0]?.closesAt).toBe(clock('14:00'))
    expect((await stage.visitor().programme.open())?.items).toEqual([])
    await maker.lots.publish({ lot: 1 })
    const shown = await stage.visitor().programme.open()
    expect(shown?.items).toMatchObject([{ kind: 'closing', lot: 1, startsAt: clock('14:00'), runsTo: clock('14:00'), isOver: false }])
  })

  it('tells everybody when a bid is late by the terms of its lot, whatever the campaign says later', async () => {
    const { plan, maker, guest } = await openDay()
    await makeCampaign(stage, { lateWindow: '300', lateAdds: '360' })
    await plan('14:00', { announce: true })
    await guest('16:00', { announce: true })
    await maker.bidding.open({ lot: 1 })
    await makeCampaign(stage, { lateWindow: '30', lateAdds: '30' })
    const { items } = (await stage.visitor().programme.open()) ?? { items: [] }
    expect(items.map(({ lateBid }) => lateBid)).toEqual([{ windowMs: 300_000, addsMs: 360_000 }, null])
  })

  it('a closing in the past is refused at the time, and one at this minute', async () => {
    const { plan } = await openDay()
    expect((await refusedAt(plan('11:59'))).at).toContain('has passed')
    expect((await refusedAt(plan('12:00'))).at).toContain('has passed')
    await plan('12:01')
  })

  it('a clash is said at the time with what is in the way', async () => {
    const { plan, maker } = await openDay()
    await maker.programme.plan({ kind: 'break', on: DAY, at: '14:00', minutes: '20' })
    expect((await refusedAt(plan('14:05'))).at).toMatch(/runs into a break, which keeps 14:00 to 14:20.*Free: 13:50 or 13:55/)
    await plan('14:30')
  })

  it('a lot has one closing', async () => {
    const { plan } = await openDay()
    await plan('14:00')
    expect((await refusedAt(plan('15:00'))).lot).toContain('already closes at 14:00')
  })

  it.each([
    [{ on: '2027-02-30' }, 'on'],
    [{ on: '13.3.2027' }, 'on'],
    [{ at: '25:00' }, 'at'],
    [{ at: '' }, 'at'],
    [{ lot: 99 }, 'lot'],
    [{ lot: undefined }, 'lot'],
  ])('%o is refused at its field and nothing is stored', async (wrong, field) => {
    const { plan, maker } = await openDay()
    expect(Object.keys(await refusedAt(plan('14:00', wrong)))).toEqual([field])
    expect((await maker.programme.day())?.items).toEqual([])
  })

  it('full-width digits are read', async () => {
    const { plan, maker } = await openDay()
    await plan('１４：００')
    expect((await maker.programme.day())?.items[0]?.startsAt).toBe(clock('14:00'))
  })
})

describe('guests and breaks', () => {
  it('a guest may stay through a closing, and needs a name', async () => {
    const { plan, guest, maker } = await openDay()
    await plan('14:00')
    await guest('13:45')
    expect((await maker.programme.day())?.items.map(({ title }) => title)).toEqual(['Ines Abreu', 'Lot 1: Saltmarsh shortwave receiver'])
    expect((await refusedAt(guest('16:00', { title: ' ' }))).title).toContain('who the guest is')
  })

  it.each(['0', '4', '-1', '1e3', '721', 'long'])('a guest for "%s" minutes is refused at the minutes', async (minutes) => {
    const { guest } = await openDay()
    expect(Object.keys(await refusedAt(guest('14:00', { minutes })))).toEqual(['minutes'])
  })
})

describe('announced and moved', () => {
  it('nobody outside sees what is not announced', async () => {
    const { plan, guest, maker } = await openDay()
    await plan('14:00')
    await maker.lots.publish({ lot: 1 })
    await guest('15:00')
    expect((await stage.visitor().programme.open())?.items).toEqual([])
    expect(await maker.programme.announce()).toEqual({ announced: 2 })
    expect((await stage.visitor().programme.open())?.items).toHaveLength(2)
  })

  it('what was announced moves later, never earlier, and its sequence rises', async () => {
    const { plan, maker } = await openDay()
    const { itemId } = await plan('14:00', { announce: true })
    const move = (at: string) => maker.programme.move({ itemId, on: DAY, at, reason: 'The guest is late.' })
    expect((await refusedAt(move('13:59'))).at).toContain('not earlier')
    const before = (await maker.programme.day())?.items[0]?.sequence ?? -1
    await move('14:20')
    const item = (await maker.programme.day())?.items[0]
    expect(item).toMatchObject({ startsAt: clock('14:20'), runsTo: clock('14:20') })
    expect(item?.sequence).toBeGreaterThan(before)
    expect((await maker.lots.all())[0]?.closesAt).toBe(clock('14:20'))
  })

  it('an announced closing is not taken out, one that is not announced is, and its lot has no closing', async () => {
    const { plan, maker } = await openDay()
    const { itemId } = await plan('14:00')
    await maker.programme.remove({ itemId })
    expect((await maker.lots.all())[0]?.closesAt).toBeNull()
    const again = await plan('14:00', { announce: true })
    expect((await refusedAt(maker.programme.remove(again))).itemId).toContain('has been announced')
  })

  it('an extension shows in the programme, and the sequence rises with it', async () => {
    const { plan, maker, number } = await openDay()
    await plan('14:00', { announce: true })
    await maker.bidding.open({ lot: number })
    const ada = await makeBidder(stage, 'Ada')
    stage.clock.set(clock('13:59'))
    await ada.bid(number, '60')
    const item = (await stage.visitor().programme.open())?.items[0]
    expect(item).toMatchObject({ startsAt: clock('14:00'), runsTo: clock('14:01'), isOver: false })
    expect(item?.sequence).toBeGreaterThan(0)
  })

  it('after a hold of all clocks the closing stands where its lot closes now', async () => {
    const { plan, maker, number } = await openDay()
    await plan('14:00', { announce: true })
    await maker.bidding.open({ lot: number })
    const actor = await stage.actor('host')
    await stage.command((turn) => holdClosings(turn, actor, { reason: 'The stream is down.' }))
    expect((await stage.visitor().programme.open())?.items[0]?.isHeld).toBe(true)
    stage.clock.pass(10 * MINUTE)
    const to = Math.max(clock('14:00'), stage.clock.now() + 15 * MINUTE) + 5 * MINUTE
    await stage.command((turn) => resumeClosings(turn, actor, new Map([[number, to]])))
    expect((await stage.visitor().programme.open())?.items[0]).toMatchObject({ isHeld: false, runsTo: to })
  })
})

describe('the night on which the clocks change', () => {
  const night = async (on: string, opens: string, closes: string) => {
    stage = openStage({ now: Date.parse(`${on}T12:00:00Z`) - 24 * HOUR })
    await makeCampaign(stage, { streamOpens: opens, streamCloses: closes })
    const maker = await stage.as('maker')
    return (at: string, which: '' | 'first' | 'second' = '') =>
      maker.programme.plan({ kind: 'guest', title: 'Ines Abreu', on, at, minutes: '10', which }).then(() => maker.programme.day())
  }

  it('an hour that comes twice is asked about, and both can be chosen', async () => {
    const plan = await night('2027-10-31', '2027-10-30T18:00', '2027-10-31T06:00')
    expect((await refusedAt(plan('01:30'))).which).toContain('comes twice on Sunday 31 October')
    const first = (await plan('01:30', 'first'))?.items
    const both = (await plan('01:30', 'second'))?.items
    expect(first?.map(({ startsAt }) => startsAt)).toEqual([Date.parse('2027-10-31T00:30:00Z')])
    expect(both?.map(({ startsAt }) => startsAt)).toEqual([Date.parse('2027-10-31T00:30:00Z'), Date.parse('2027-10-31T01:30:00Z')])
  })

  it('an hour that never comes is refused with the next time there is', async () => {
    const plan = await night('2027-03-28', '2027-03-27T18:00', '2027-03-28T06:00')
    expect((await refusedAt(plan('01:30'))).at).toContain('The next time there is, is 02:30')
  })

  it('the page warns', async () => {
    const plan = await night('2027-10-31', '2027-10-30T18:00', '2027-10-31T06:00')
    const day = await plan('03:00')
    expect(day?.clockChange?.words).toBe('In London the clocks go back 60 minutes at 01:59, during the stream.')
  })
})

describe('where the audience lives', () => {
  it('keeps zones with shares, and refuses one that is none at its field', async () => {
    const { maker } = await openDay()
    await maker.programme.audience({
      zones: [
        { zone: 'Europe/London', sharePercent: 60 },
        { zone: 'Asia/Tokyo', sharePercent: 40, daysOff: '2027-03-12, 2027-03-22' },
      ],
    })
    expect((await maker.programme.day())?.audience).toEqual([
      { zone: 'Europe/London', sharePercent: 60, daysOff: [] },
      { zone: 'Asia/Tokyo', sharePercent: 40, daysOff: ['2027-03-12', '2027-03-22'] },
    ])
    const two = (second: object) =>
      refusedAt(
        maker.programme.audience({
          zones: [
            { zone: 'Europe/London', sharePercent: 60 },
            { zone: 'Asia/Tokyo', sharePercent: 40, ...second },
          ],
        }),
      )
    expect(await two({ sharePercent: 30 })).toEqual({
      'zones.1.sharePercent': 'The shares come to 90 %, and must come to 100. With 40 here they would.',
    })
    expect(await two({ daysOff: '2027-02-30' })).toHaveProperty(['zones.1.daysOff'])
    expect(await refusedAt(maker.programme.audience({ zones: [{ zone: 'Mars/Base', sharePercent: 1 }] }))).toHaveProperty(['zones.0.zone'])
    expect(await refusedAt(maker.programme.audience({ zones: [{ zone: 'Asia/Tokyo', sharePercent: 0 }] }))).toHaveProperty([
      'zones.0.sharePercent',
    ])
  })
})

it('before there is a campaign there is no programme', async () => {
  stage = openStage({ now: NOON })
  expect(await stage.visitor().programme.open()).toBeNull()
})
