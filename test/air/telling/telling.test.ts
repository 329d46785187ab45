import ICAL from 'ical.js'
import { afterEach, describe, expect, it } from 'vitest'
import { chaptersOf, showOffset } from '#air/telling/telling.rules'
import { setPaper } from '#doors/papers/papers'
import { ADDRESSES } from '#doors/web/addresses'
import { HOUR, MINUTE } from '#kernel/instant'
import type { PaperOrder } from '#paper/order'
import { matchAddress } from '#runtime/call/address'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeBidder, makeOpenLot, makePreparedLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const DAY = '2027-03-13'
const clock = (at: string) => Date.parse(`${DAY}T${at}:00Z`)

function answerOf(path: string) {
  const match = matchAddress(ADDRESSES, path)
  if (!match) throw new Error(`there is no address ${path}`)
  return match.address.answer(stage.sight(), match.params, new URLSearchParams())
}
const ask = (path: string) => String(answerOf(path)?.body ?? '')
const events = (path: string) =>
  new ICAL.Component(ICAL.parse(ask(path))).getAllSubcomponents('vevent').map((each) => ({
    uid: String(each.getFirstPropertyValue('uid')),
    sequence: Number(each.getFirstPropertyValue('sequence')),
    status: String(each.getFirstPropertyValue('status')),
    start: new ICAL.Event(each).startDate.toJSDate().getTime(),
    alarms: each.getAllSubcomponents('valarm').length,
  }))
const changes = async () => (await stage.visitor().programme.changes())?.changes ?? []

/** Lot 1 closes at 14:00, announced and open; it is noon. */
async function announcedDay() {
  stage = openStage()
  const { number } = await makePreparedLot(stage, { closesIn: HOUR })
  const maker = await stage.as('maker')
  const { itemId } = await maker.programme.plan({ kind: 'closing', lot: number, on: DAY, at: '14:00', announce: true })
  await maker.bidding.open({ lot: number })
  return { maker, number, itemId }
}

describe('a calendar follows a closing', () => {
  it('the whole programme and the lot’s own feed have the same entry, and only who asked for one lot is reminded', async () => {
    const { number } = await announcedDay()
    const own = events(`/lots/${number}/closing.ics`)
    expect(own).toMatchObject([{ status: 'CONFIRMED', start: clock('14:00'), alarms: 2 }])
    expect(events('/programme.ics')).toEqual(own.map((one) => ({ ...one, alarms: 0 })))
  })

  it('through late bids, the host, a hold, the programme and a withdrawal its UID stays and its SEQUENCE only rises', async () => {
    const { maker, number, itemId } = await announcedDay()
    const seen = [events('/programme.ics')[0]]
    const step = async (what: Promise<unknown>) => {
      await what
      seen.push(events('/programme.ics')[0])
    }
    const ada = await makeBidder(stage, 'Ada')
    stage.clock.set(clock('13:59'))
    await step(ada.bid(number, '60'))
    await step((await stage.as('host')).bidding.extend({ lot: number, minutes: 10, reason: 'A guest is late.' }))
    await (await stage.as('host')).programme.holdAll({ reason: 'The stream is down.' })
    stage.clock.pass(5 * MINUTE)
    await step((await stage.as('host')).programme.resumeAll())
    await step(maker.programme.move({ itemId, on: DAY, at: '15:00', reason: 'Ines comes an hour later.' }))
    await step(maker.bidding.withdraw({ lot: number, reason: 'It was dropped.' }))
    expect(new Set(seen.map((one) => one?.uid)).size).toBe(1)
    const sequences = seen.map((one) => one?.sequence ?? -1)
    for (let at = 1; at < sequences.length; at += 1) expect(sequences[at]).toBeGreaterThan(sequences[at - 1] ?? 0)
    expect(seen.at(-1)).toMatchObject({ status: 'CANCELLED', alarms: 0 })
    expect(events(`/lots/${number}/closing.ics`)).toMatchObject([{ status: 'CANCELLED' }])
  })

  it('a guest who was announced and does not come is cancelled; one who was not announced was never there', async () => {
    const { maker } = await announcedDay()
    const guest = (title: string, announce: boolean, at: string) =>
      maker.programme.plan({ kind: 'guest', title, on: DAY, at, minutes: '20', announce })
    const { itemId } = await guest('Ines Abreu', true, '16:00')
    const told = events('/programme.ics').find(({ start }) => start === clock('16:00'))
    await maker.programme.remove({ itemId })
    await maker.programme.remove(await guest('Bo Ferris', false, '17:00'))
    const cancelled = events('/programme.ics').filter(({ status }) => status === 'CANCELLED')
    expect(cancelled).toMatchObject([{ uid: told?.uid, start: clock('16:00') }])
    expect(cancelled[0]?.sequence).toBeGreaterThan(told?.sequence ?? 0)
    expect(ask('/programme.ics')).not.toContain('Bo Ferris')
  })

  it('a lot that is closed in no programme has a feed of its own all the same', async () => {
    stage = openStage()
    const { number, closesAt } = await makeOpenLot(stage)
    const [first] = events(`/lots/${number}/closing.ics`)
    expect(first).toMatchObject({ start: closesAt, status: 'CONFIRMED' })
    await (await stage.as('host')).bidding.extend({ lot: number, minutes: 10, reason: 'A guest.' })
    const [second] = events(`/lots/${number}/closing.ics`)
    expect(second).toMatchObject({ uid: first?.uid, start: closesAt + 10 * MINUTE })
    expect(second?.sequence).toBeGreaterThan(first?.sequence ?? 0)
  })
})

describe('what changed, when and why', () => {
  it('an announced item moves only with a reason, which everybody reads', async () => {
    const { maker, itemId } = await announcedDay()
    const move = (reason?: string) => maker.programme.move({ itemId, on: DAY, at: '14:30', reason })
    expect((await refusedAt(move())).reason).toContain('why it moves')
    expect((await refusedAt(move('  '))).reason).toContain('why it moves')
    await move('The soldering took longer.')
    expect((await changes())[0]).toMatchObject({
      kind: 'moved',
      lot: 1,
      from: clock('14:00'),
      to: clock('14:30'),
      why: 'The soldering took longer.',
      at: clock('12:00'),
    })
    // The lot's own history tells of the same move; it is not told twice.
    expect((await changes()).filter(({ kind }) => kind === 'moved' || kind === 'extended')).toHaveLength(1)
  })

  it('a new line of words needs none, and what is not announced is nobody’s business', async () => {
    const { maker, itemId } = await announcedDay()
    const before = (await changes()).length
    await maker.programme.move({ itemId, on: DAY, at: '14:00', note: 'With a cup of tea.' })
    const guest = await maker.programme.plan({ kind: 'guest', title: 'Ines Abreu', on: DAY, at: '16:00', minutes: '20' })
    await maker.programme.move({ itemId: guest.itemId, on: DAY, at: '15:30', minutes: '20', title: 'Ines Abreu' })
    expect(await changes()).toHaveLength(before)
    await maker.programme.announce()
    expect((await changes())[0]).toMatchObject({ kind: 'announced' })
  })

  it('an announced closing never moves earlier, by whatever way, nor back behind an extension', async () => {
    const { maker, itemId, number } = await announcedDay()
    await (await stage.as('host')).bidding.extend({ lot: number, minutes: 20, reason: 'A guest is late.' })
    for (const at of ['13:30', '13:59', '14:01', '14:19'])
      expect((await refusedAt(maker.programme.move({ itemId, on: DAY, at, reason: 'Because.' }))).at).toContain('not earlier')
    // The time that was planned at first is no move: the closing stays where the extension put it.
    await maker.programme.move({ itemId, on: DAY, at: '14:00' })
    expect(events('/programme.ics')[0]?.start).toBe(clock('14:20'))
  })

  it('late bids, holds of all and results are told once each, the newest first', async () => {
    const { number } = await announcedDay()
    const host = await stage.as('host')
    const ada = await makeBidder(stage, 'Ada')
    stage.clock.set(clock('13:59'))
    await ada.bid(number, '60')
    await host.programme.holdAll({ reason: 'The stream is down.' })
    stage.clock.pass(MINUTE)
    await host.programme.resumeAll()
    stage.clock.set(clock('16:00'))
    await stage.command(closeDueLots)
    expect((await changes()).map(({ kind, lot }) => [kind, lot]).slice(0, 4)).toEqual([
      ['sold', 1],
      ['resumed', null],
      ['held', null],
      ['extended', 1],
    ])
    expect((await changes())[3]?.why).toBe('A bid came in the last two minutes.')
    expect(ask('/programme.atom')).toContain('was sold for £')
  })
})

describe('pictures for links', () => {
  const sizeOf = async (path: string) => {
    const body = answerOf(path)?.body as { print: PaperOrder }
    const png = await setPaper(body.print)
    expect(png.subarray(1, 4).toString()).toBe('PNG')
    return { order: body.print, size: [png.readUInt32BE(16), png.readUInt32BE(20)] }
  }
  it('the programme and a lot have one of 1200 × 630 with the closing time', async () => {
    await announcedDay()
    const day = await sizeOf('/programme.png')
    expect(day).toMatchObject({ size: [1200, 630], order: { rows: [{ clock: '14:00', words: 'Lot 1: Saltmarsh shortwave receiver' }] } })
    const lot = await sizeOf('/lots/1/card.png')
    expect(lot).toMatchObject({ size: [1200, 630], order: { closing: 'Closes Sat 13 March, 14:00 in London' } })
  })
  it('a draft has none', async () => {
    stage = openStage()
    const { number } = await makePreparedLot(stage)
    expect(answerOf(`/lots/${number}/card.png`)).toBeNull()
    expect(answerOf('/lots/99/card.png')).toBeNull()
    expect(answerOf('/lots/no/card.png')).toBeNull()
  })
})

describe('the text for the video', () => {
  it('has times, chapters from when the recording begins, links, cause and credits', async () => {
    const { maker } = await announcedDay()
    const { text } = await maker.telling.describe({ begins: '' })
    expect(text).toContain('Long Bench Day: Saturday 13 March, 08:00 to 20:00 (London)')
    expect(text).toContain('0:00:00 Welcome\n5:50:00 Lot 1: Saltmarsh shortwave receiver closes')
    expect(text).toContain('https://bench.example/lots/1')
    expect(text).toMatch(/Head of its history: [0-9A-Z]{4}(?: [0-9A-Z]{4}){4} /)
    expect((await maker.telling.describe({ begins: '08:10:30' })).text).toContain('5:39:30 Lot 1')
    expect(await refusedAt(maker.telling.describe({ begins: 'noon' }))).toHaveProperty('begins')
  })

  it('chapters begin at nought and none comes within ten seconds of another', async () => {
    await announcedDay()
    const programme = await stage.visitor().programme.open()
    if (!programme) throw new Error('there is a programme')
    const from = clock('13:49') + 55_000
    expect(chaptersOf(programme, from).map(({ offset }) => offset)).toEqual([0])
    expect(chaptersOf(programme, from - 5_000).map(({ offset }) => offset)).toEqual([0, 10_000])
    expect(showOffset(13 * HOUR + 5 * MINUTE + 7_000)).toBe('13:05:07')
  })
})
