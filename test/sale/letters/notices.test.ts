import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'
import { NOT_KNOWN, rewriteLetter } from '#people/outbox/outbox.service'
import * as outbox from '#people/outbox/outbox.store'
import { closeDueLots } from '#sale/closings/close-due.service'
import { GATHERED_FOR } from '#sale/letters/notices.rules'
import { noticeSweep, notify, reviewNotices } from '#sale/letters/notices.service'
import { getLotRow } from '#sale/lots/lots.service'
import { civilParts } from '#sale/programme/civil-time.rules'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let ada: Awaited<ReturnType<typeof makeBidder>>
let ben: typeof ada
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

async function openLot(wishes?: Parameters<typeof makeOpenLot>[1]) {
  const lot = await makeOpenLot(stage, wishes)
  ada = await makeBidder(stage, 'Ada')
  ben = await makeBidder(stage, 'Ben')
  return lot
}

const sweep = () => stage.command(noticeSweep.run)
const to = (one: typeof ada) => stage.letters().filter(({ recipient }) => recipient === one.actor.email)
/** What the postman does with a letter right before it goes. */
const review = (id: string) => stage.command((turn) => rewriteLetter(turn, id, reviewNotices(turn, id)))

describe('what happens within a few minutes', () => {
  it('goes into one letter: outbid three times is told once, at the price as it is then', async () => {
    const { number } = await openLot()
    for (const [mine, theirs] of [
      ['40', '50'],
      ['70', '80'],
      ['110', '155'],
    ] as const) {
      await ada.bid(number, mine)
      await ben.bid(number, theirs)
      stage.clock.pass(30 * SECOND)
    }
    expect(stage.letters()).toEqual([])
    expect(noticeSweep.nextAt(stage.sight())).toBe(NOON + GATHERED_FOR)
    stage.clock.set(NOON + GATHERED_FOR - 1)
    await sweep()
    expect(stage.letters()).toEqual([])
    stage.clock.set(NOON + GATHERED_FOR)
    await sweep()
    expect(to(ada)).toMatchObject([{ subject: 'You were outbid on lot 1, Saltmarsh shortwave receiver' }])
    expect(to(ada)[0]?.body).toContain('Somebody else leads at £120.00. It closes on Saturday 13 March at')
    // Ben was outbid as well, half a minute later, and leads by now.
    expect(noticeSweep.nextAt(stage.sight())).toBe(NOON + 30 * SECOND + GATHERED_FOR)
    stage.clock.pass(30 * SECOND)
    await sweep()
    expect(stage.letters()).toHaveLength(1)
    expect(noticeSweep.nextAt(stage.sight())).toBeNull()
  })

  it('is not told to whoever leads again by then', async () => {
    const { number } = await openLot()
    await ada.bid(number, '40')
    await ben.bid(number, '50')
    await ada.bid(number, '210')
    stage.clock.pass(GATHERED_FOR)
    await sweep()
    expect(to(ada)).toEqual([])
    expect(to(ben)).toHaveLength(1)
  })

  it('that the lot has ended since takes the place of having been outbid', async () => {
    const { number, closesAt } = await openLot({ closesIn: 2 * MINUTE })
    await ada.bid(number, '40')
    await ben.bid(number, '50')
    stage.clock.set(closesAt + 5 * MINUTE)
    await stage.command(closeDueLots)
    await gathered(stage)
    expect(to(ada).map(({ subject }) => subject)).toEqual(['You did not win lot 1, Saltmarsh shortwave receiver'])
  })
})

describe('the end of a lot', () => {
  it('is told to everybody who bid, once, and to nobody whose bids were voided', async () => {
    const { number, closesAt } = await openLot()
    const [cleo, dora] = [await makeBidder(stage, 'Cleo'), await makeBidder(stage, 'Dora')]
    await ada.bid(number, '30')
    await cleo.bid(number, '60')
    const { alias } = await dora.bid(number, '90')
    await ben.bid(number, '155')
    await (await stage.as('host')).bidding.askVoid({ lot: number, alias, reason: 'Bid in error.' })
    await (await stage.as('maker')).bidding.agreeVoid({ lot: number, alias, askedAt: stage.clock.now() })
    await gathered(stage)
    stage.db.run('UPDATE letter SET sent_at = at')
    const before = stage.letters().length
    stage.clock.set(closesAt + 20 * MINUTE)
    await stage.command(closeDueLots)
    const told = (await gathered(stage)).slice(before).map(({ recipient, subject }) => [recipient, subject.split(' lot ')[0]])
    expect(told.sort()).toEqual([
      [ada.actor.email, 'You did not win'],
      [ben.actor.email, 'You won'],
      [cleo.actor.email, 'You did not win'],
    ])
  })

  it('under the reserve is told to those who never led as well', async () => {
    const { number, closesAt } = await openLot({ form: { reserveKind: 'amount', reserve: '300' } })
    await ada.bid(number, '60')
    await ben.bid(number, '155')
    stage.clock.set(closesAt)
    await stage.command(closeDueLots)
    await gathered(stage)
    expect(to(ada)[0]?.body).toContain('It closed without reaching its reserve.')
    expect(to(ben)[0]?.body).toContain('You led when it closed')
  })
})

describe('a hold of the day', () => {
  it('is one letter for each person, in their own time zone with the day', async () => {
    const host = await stage.as('host')
    const zone = 'Europe/London'
    const lots = []
    for (const [index, tag] of ['TERN-03', 'TERN-04', 'TERN-05'].entries()) {
      const lot = await openLot({ tag, closesIn: (index + 1) * HOUR })
      const { on, at } = civilParts(lot.closesAt, (await host.programme.day())?.zone ?? zone)
      await host.programme.plan({ kind: 'closing', lot: lot.number, on, at, announce: true })
      lots.push(lot.number)
    }
    for (const lot of lots) await ada.bid(lot, '30')
    await ada.caller.people.setZone({ zone: 'Pacific/Auckland' })
    await host.programme.holdAll({ reason: 'The stream was lost.' })
    // Longer than the slack between them, so that each of them moves.
    stage.clock.pass(4 * HOUR)
    await host.programme.resumeAll()
    await gathered(stage)
    expect(to(ada)).toHaveLength(1)
    const { subject, body } = to(ada)[0] ?? { subject: '', body: '' }
    expect(subject).toBe('3 lots you have bid on close at a different time')
    // 16:15 UTC on a Saturday is a quarter past five of the Sunday there.
    expect(body).toContain('now on Sunday 14 March at 05:15 (Pacific/Auckland)')
    expect(body.match(/Pacific\/Auckland/g)).toHaveLength(3)
    expect(body.match(/The stream was lost/g)).toHaveLength(1)
  })

  it('refuses a zone that there is not, and a paddle keeps the one that was chosen', async () => {
    await openLot()
    await expect(ada.caller.people.setZone({ zone: 'Middle/Earth' })).rejects.toThrow('Choose a time zone from the list')
    const take = (zone: string) => ada.caller.people.takePaddle({ name: 'Ada', country: 'GB', acceptsRules: true, zone })
    await take('Asia/Tokyo')
    expect((await ada.caller.people.myPaddle()).zone).toBe('Asia/Tokyo')
    await take('Europe/Oslo')
    expect((await ada.caller.people.myPaddle()).zone).toBe('Asia/Tokyo')
  })
})

describe('a letter that waits in the outbox', () => {
  const outbidLetter = async () => {
    const { number, closesAt } = await openLot()
    await ada.bid(number, '40')
    await ben.bid(number, '50')
    await gathered(stage)
    const [letter] = to(ada)
    return { number, closesAt, id: letter?.id ?? '' }
  }
  const waits = () => {
    const { db, now } = stage.sight()
    return outbox.nextLetter(db, { now, underWay: new Set(), codesSince: now, mostTries: 12 })?.recipient ?? null
  }

  it('says the price as it is when it goes', async () => {
    const { number, id } = await outbidLetter()
    await (await makeBidder(stage, 'Cleo')).bid(number, '155')
    await review(id)
    expect(to(ada)[0]?.body).toMatch(/leads at £5\d\.00/)
    expect(to(ada)[0]?.withdrawnAt).toBeNull()
  })

  it('is withdrawn when it has been overtaken, does not go, and cannot be made to', async () => {
    const { number, id } = await outbidLetter()
    await ada.bid(number, '210')
    await review(id)
    expect(to(ada)).toMatchObject([{ id, withdrawnAt: stage.clock.now(), sentAt: null }])
    expect(waits()).toBeNull()
    const maker = await stage.as('maker')
    await expect(maker.outbox.again({ id })).rejects.toThrow('no longer so')
    expect((await maker.outbox.list()).find((one) => one.id === id)).toMatchObject({ isGivenUp: false, withdrawnAt: stage.clock.now() })
  })

  it('takes up what happens later, so that no two of them go', async () => {
    const { closesAt, id } = await outbidLetter()
    stage.clock.set(closesAt)
    await stage.command(closeDueLots)
    await gathered(stage)
    expect(to(ada)).toMatchObject([{ id, subject: 'You did not win lot 1, Saltmarsh shortwave receiver' }])
  })

  it('is left as it is once it may have gone: what comes later is another letter', async () => {
    const { closesAt, id } = await outbidLetter()
    await stage.command((turn) => outbox.updateLetter(turn.db, id, { tries: 1, lastError: NOT_KNOWN }))
    stage.clock.set(closesAt)
    await stage.command(closeDueLots)
    await gathered(stage)
    expect(to(ada).map(({ subject }) => subject)).toEqual([
      'You were outbid on lot 1, Saltmarsh shortwave receiver',
      'You did not win lot 1, Saltmarsh shortwave receiver',
    ])
  })
})

describe('what happens to hundreds at once', () => {
  it('is written in many short commands, so that no bid waits for all of the letters', async () => {
    const { number } = await openLot()
    const { id } = getLotRow(stage.sight(), number)
    for (let at = 0; at < 35; at++) {
      const { actor } = await makeBidder(stage, 'x'.repeat(at + 1))
      await stage.command((turn) => notify(turn, actor.personId, id, 'corrected', { reason: 'It has two knobs.' }))
      if (at % 3 === 0) stage.clock.pass(1)
    }
    stage.clock.pass(GATHERED_FOR)
    const written: number[] = []
    while (noticeSweep.nextAt(stage.sight()) !== null && written.length < 99) {
      const before = stage.letters().length
      await sweep()
      written.push(stage.letters().length - before)
    }
    expect(written).toEqual([10, 10, 10, 5])
    expect(new Set(stage.letters().map(({ recipient }) => recipient)).size).toBe(35)
  })
})
