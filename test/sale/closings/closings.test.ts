import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { closingSweep } from '#sale/closings/closing.sweep'
import { planClosing } from '#sale/closings/closings.service'
import { holdLotOfUnit } from '#sale/closings/holds.service'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot, makePreparedLot } from '#test/make/lot'
import { reopen, restart } from '#test/make/restart'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const sweep = () => stage.command(closeDueLots)
const frame = (lot: number) => stage.visitor().bidding.frame({ lot })
const faults = (lot: number) => checkHistory(JSON.parse(JSON.stringify(readHistory(stage.sight(), lot)))).filter(({ isSound }) => !isSound)

describe('a lot closes by itself', () => {
  it('at its instant, sold to the highest maximum, and everybody who bid is told', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const [ada, ben, cleo] = [await makeBidder(stage, 'Ada', 'NO'), await makeBidder(stage, 'Ben'), await makeBidder(stage, 'Cleo')]
    await cleo.bid(number, '60')
    await ben.bid(number, '155')
    await ada.bid(number, '210')
    expect(closingSweep.nextAt(stage.sight())).toBe(closesAt)
    stage.clock.set(closesAt + 7 * SECOND)
    await sweep()
    expect(await frame(number)).toMatchObject({ state: 'sold', hammerMinor: 16_500, endedAt: closesAt })
    const letters = (await gathered(stage)).filter(({ subject }) => subject.includes('lot 1'))
    expect(letters.map(({ recipient, subject }) => [recipient, subject]).sort()).toEqual([
      [ada.actor.email, 'You won lot 1, Saltmarsh shortwave receiver'],
      [ben.actor.email, 'You did not win lot 1, Saltmarsh shortwave receiver'],
      [cleo.actor.email, 'You did not win lot 1, Saltmarsh shortwave receiver'],
    ])
    expect(letters[0]?.body).toContain('Together: £183.00')
    expect(stage.facts().filter(({ kind }) => kind === 'lot.closed')).toHaveLength(1)
    await sweep()
    expect(stage.facts().filter(({ kind }) => kind === 'lot.closed')).toHaveLength(1)
  })

  it('unsold under the reserve, and whoever led is told; the reserve is published then', async () => {
    const { number, closesAt } = await makeOpenLot(stage, { form: { reserveKind: 'amount', reserve: '300' } })
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '210')
    stage.clock.set(closesAt)
    await sweep()
    expect(await frame(number)).toMatchObject({ state: 'unsold', hammerMinor: null })
    expect((await gathered(stage)).at(-1)).toMatchObject({
      recipient: ada.actor.email,
      subject: 'Lot 1, Saltmarsh shortwave receiver was not sold',
    })
    expect(readHistory(stage.sight(), number).leaves.at(-1)).toMatchObject({ reserve: { amountMinor: 30_000 } })
    expect(faults(number)).toEqual([])
  })

  it('enters the journal once it is sold', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    await (await makeBidder(stage, 'Ada')).bid(number, '210')
    stage.clock.set(closesAt)
    await sweep()
    expect(stage.facts().map(({ kind }) => kind)).toEqual(expect.arrayContaining(['money.hammer', 'money.postage']))
  })
})

describe('holding all clocks', () => {
  it('refuses bids with the reason, opens nothing, and gives what was about to close a quarter of an hour from going on', async () => {
    const first = await makeOpenLot(stage, { closesIn: 5 * MINUTE })
    const second = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 35 * MINUTE })
    const planned = await makePreparedLot(stage, { tag: 'TERN-05', closesIn: 65 * MINUTE })
    const host = await stage.as('host')
    const ada = await makeBidder(stage, 'Ada')
    expect(await host.programme.holdAll({ reason: 'The stream is down.' })).toEqual({ held: 2 })
    await expect(ada.bid(first.number, '50')).rejects.toThrow('The reason: The stream is down.')
    await expect((await stage.as('maker')).bidding.open({ lot: planned.number })).rejects.toThrow('All clocks are stopped')
    await expect(host.programme.holdAll({ reason: 'Again.' })).rejects.toThrow('already stopped')
    stage.clock.pass(10 * MINUTE)
    await sweep()
    expect((await frame(first.number))?.state).toBe('held')
    expect(await host.programme.resumeAll()).toEqual({ shiftMs: 20 * MINUTE })
    expect(await frame(first.number)).toMatchObject({ state: 'open', closesAt: stage.clock.now() + 15 * MINUTE, heldReason: null })
    // Half an hour behind it there is room: what was announced stays.
    expect(await frame(second.number)).toMatchObject({ state: 'open', closesAt: second.closesAt, heldReason: null })
    const all = await (await stage.as('maker')).lots.all()
    expect(all.find(({ number }) => number === planned.number)?.closesAt).toBe(planned.closesAt)
    await expect(host.programme.resumeAll()).rejects.toThrow('The clocks are running')
  })

  it('leaves a lot on hold that was held for a reason of its own', async () => {
    const { number, unitId } = await makeOpenLot(stage)
    await stage.command((turn) => holdLotOfUnit(turn, unitId, 'A batch of chips is suspect.'))
    const host = await stage.as('host')
    await host.programme.holdAll({ reason: 'Sound.' })
    stage.clock.pass(SECOND)
    await host.programme.resumeAll()
    expect(await frame(number)).toMatchObject({ state: 'held', heldReason: 'A batch of chips is suspect.' })
    await host.programme.resume({ lot: number })
    expect((await frame(number))?.state).toBe('open')
  })
})

describe('an outage', () => {
  it('in the last two minutes moves the closing when the house is back, and the history says so', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    await (await makeBidder(stage, 'Ada')).bid(number, '50')
    stage.clock.set(closesAt - MINUTE)
    stage = await restart(stage, 90 * SECOND)
    expect(await frame(number)).toMatchObject({ state: 'open', closesAt: closesAt + 90 * SECOND })
    expect(readHistory(stage.sight(), number).leaves.at(-1)).toMatchObject({ kind: 'outage', shiftMs: 90 * SECOND })
  })

  it('that began after the closing leaves the lot closed at its instant', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    stage.clock.set(closesAt)
    stage = await restart(stage, MINUTE)
    await sweep()
    expect(await frame(number)).toMatchObject({ state: 'unsold', endedAt: closesAt })
  })

  it('of five seconds, or none before, moves nothing', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    stage.clock.set(closesAt - MINUTE)
    stage = await restart(stage, 5 * SECOND)
    expect((await frame(number))?.closesAt).toBe(closesAt)
  })

  it('is settled before whatever the first command is, and once: neither another command nor another start settles it again', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    await makeBidder(stage, 'Ada')
    stage.clock.set(closesAt - MINUTE)
    stage = await reopen(stage, 90 * SECOND)
    await (await stage.as('bidder', 'Ada')).bidding.place({ lot: number, maximum: '50', key: 'the-first-command' })
    await stage.command(() => {})
    stage = await restart(stage, 0)
    const { leaves } = readHistory(stage.sight(), number)
    expect(leaves.map(({ kind }) => kind)).toEqual(['opened', 'outage', 'bid', 'extended'])
    expect((await frame(number))?.closesAt).toBe(closesAt + 30 * SECOND + 2 * MINUTE)
  })
})

describe('planning a closing', () => {
  it('moves a draft either way but not into the past, and an open lot only later', async () => {
    const draft = await makePreparedLot(stage)
    const now = stage.clock.now()
    await stage.command((turn) => planClosing(turn, draft.number, now + MINUTE))
    await expect(stage.command((turn) => planClosing(turn, draft.number, now))).rejects.toThrow('That time is past')
    const { number, closesAt } = await makeOpenLot(stage, { tag: 'TERN-04' })
    await expect(stage.command((turn) => planClosing(turn, number, closesAt - 1))).rejects.toThrow('never moved earlier')
    await expect(stage.command((turn) => planClosing(turn, number, null))).rejects.toThrow('must keep a closing')
    await stage.command((turn) => planClosing(turn, number, closesAt + MINUTE))
    expect(await frame(number)).toMatchObject({ closesAt: closesAt + MINUTE, extendedTimes: 1 })
  })

  it('the staff may give an open lot more time, with a reason in the history', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    await (await stage.as('host')).bidding.extend({ lot: number, minutes: 10, reason: 'The guest is still talking.' })
    expect((await frame(number))?.closesAt).toBe(closesAt + 10 * MINUTE)
    expect(readHistory(stage.sight(), number).leaves.at(-1)).toMatchObject({
      kind: 'extended',
      by: 'host',
      reason: 'The guest is still talking.',
    })
  })
})

describe('a void', () => {
  it('needs two of the staff, replays the lot without that bidder, and tells them and whoever leads now', async () => {
    const [host, maker] = [await stage.as('host'), await stage.as('maker')]
    const { number, closesAt } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ada.bid(number, '60')
    const { alias } = await ben.bid(number, '400')
    stage.clock.set(closesAt - MINUTE)
    await expect(maker.bidding.agreeVoid({ lot: number, alias, askedAt: stage.clock.now() })).rejects.toThrow('Nobody has asked')
    await host.bidding.askVoid({ lot: number, alias, reason: 'Bid in error.' })
    await expect(host.bidding.agreeVoid({ lot: number, alias, askedAt: stage.clock.now() })).rejects.toThrow(
      'Another member of staff must agree',
    )
    await maker.bidding.agreeVoid({ lot: number, alias, askedAt: stage.clock.now() })
    expect(await frame(number)).toMatchObject({ standingMinor: 2000, bids: 1, closesAt: closesAt + 14 * MINUTE })
    const told = (await gathered(stage)).slice(-2)
    expect(told.map(({ recipient, subject }) => [recipient, subject]).sort()).toEqual([
      [ada.actor.email, 'You lead lot 1, Saltmarsh shortwave receiver again'],
      [ben.actor.email, 'Your bids on lot 1, Saltmarsh shortwave receiver were voided'],
    ])
    expect(told.find(({ recipient }) => recipient === ada.actor.email)?.body).toContain('you lead at £20.00 and are bound by it')
    await expect(ben.bid(number, '500')).rejects.toThrow('Your bids on this lot were voided')
    await ada.bid(number, '70')
    stage.clock.set(closesAt + 15 * MINUTE)
    await sweep()
    expect(await frame(number)).toMatchObject({ state: 'sold', hammerMinor: 2000 })
    expect(faults(number)).toEqual([])
    expect(isKeptRight(stage.sight(), number)).toBe(true)
  })
})

describe('withdrawing and correcting', () => {
  it('a withdrawal ends the lot, nobody wins, its bidders are told', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '60')
    await (await stage.as('maker')).bidding.withdraw({ lot: number, reason: 'The display failed.' })
    expect(await frame(number)).toMatchObject({ state: 'withdrawn', hammerMinor: null })
    expect((await gathered(stage)).at(-1)).toMatchObject({
      recipient: ada.actor.email,
      subject: 'Lot 1, Saltmarsh shortwave receiver was withdrawn',
    })
    await expect(ada.bid(number, '70')).rejects.toThrow('withdrawn')
    expect(faults(number)).toEqual([])
  })

  it('a correction tells the bidders and stands in the history; the terms stay', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '60')
    await (await stage.as('maker')).bidding.correct({ lot: number, words: 'The case is beech, not oak.' })
    expect((await gathered(stage)).at(-1)?.body).toContain('beech, not oak')
    expect(readHistory(stage.sight(), number).leaves.at(-1)).toMatchObject({ kind: 'corrected', by: 'maker' })
    await ada.bid(number, '70')
    expect(isKeptRight(stage.sight(), number)).toBe(true)
  })

  it('a correction stands on the page of the lot beside its story, which stays as it was fixed', async () => {
    const { number } = await makeOpenLot(stage)
    const { story } = await stage.visitor().lotPage.page({ lot: number })
    await (await stage.as('maker')).bidding.correct({ lot: number, words: 'The case is beech, not oak.' })
    expect(await stage.visitor().lotPage.page({ lot: number })).toMatchObject({
      story,
      corrections: [{ words: 'The case is beech, not oak.', at: stage.clock.now() }],
    })
  })
})

describe('a lot held by what was found at the bench', () => {
  it('tells whoever bid on it, nobody else, and tells them again when its clock goes on', async () => {
    const { number, unitId, closesAt } = await makeOpenLot(stage)
    const [ada] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ada.bid(number, '60')
    const before = stage.letters().length
    await stage.command((turn) => holdLotOfUnit(turn, unitId, 'Parts of batch B-0012 are suspect: the markings rub off.'))
    expect((await gathered(stage)).slice(before)).toMatchObject([
      { recipient: ada.actor.email, subject: 'Lot 1, Saltmarsh shortwave receiver is on hold' },
    ])
    expect(stage.letters().at(-1)?.body).toContain('the markings rub off')
    stage.clock.pass(30 * MINUTE)
    const host = await stage.as('host')
    await host.programme.resume({ lot: number })
    await stage.command((turn) => turn.db.run('UPDATE letter SET sent_at = 1'))
    expect((await gathered(stage)).slice(before + 1)).toMatchObject([
      { recipient: ada.actor.email, subject: 'Lot 1, Saltmarsh shortwave receiver is running again' },
    ])
    expect((await frame(number))?.closesAt).toBe(Math.max(closesAt, stage.clock.now() + 15 * MINUTE))
  })
})

describe('what is kept for speed', () => {
  it('is what the whole history leads to, after everything that can happen', async () => {
    const { number, closesAt } = await makeOpenLot(stage, { form: { reserveKind: 'amount', reserve: '100' } })
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    const host = await stage.as('host')
    const check = () => expect(isKeptRight(stage.sight(), number)).toBe(true)
    await ada.bid(number, '60')
    check()
    await host.programme.hold({ lot: number, reason: 'Sound.' })
    check()
    stage.clock.pass(3 * MINUTE)
    await host.programme.resume({ lot: number })
    check()
    await ben.bid(number, '155')
    await ada.bid(number, '210')
    stage.clock.set(closesAt - MINUTE)
    await ben.bid(number, '250')
    check()
    stage.clock.pass(10 * MINUTE)
    await sweep()
    check()
    expect(faults(number)).toEqual([])
    expect(readHistory(stage.sight(), number).leaves.map(({ kind }) => kind)).toEqual([
      'opened',
      'bid',
      'held',
      'resumed',
      'bid',
      'bid',
      'bid',
      'extended',
      'closed',
      'revealed',
    ])
  })
})
