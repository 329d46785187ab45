import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE, SECOND, toIso } from '#kernel/instant'
import { noteAlive } from '#runtime/queue/alive'
import { placeTypedBid } from '#sale/bidding/place-bid.service'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { restart } from '#test/make/restart'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const frame = async (lot: number) => stage.visitor().bidding.frame({ lot })
let sent = 0
const bid = async (name: string, lot: number, maximum: string) =>
  (await stage.as('bidder', name)).bidding.place({ lot, maximum, key: `restart-${String(++sent).padStart(10, '0')}` })

const faults = (lot: number) => checkHistory(JSON.parse(JSON.stringify(readHistory(stage.sight(), lot)))).filter(({ isSound }) => !isSound)

describe('a restart around the closing', () => {
  // When the house fell silent, seen from the closing, for how long, and where the closing then is.
  it.each([
    ['long before the last two minutes', -10 * MINUTE, 3 * MINUTE, 0],
    ['and back just as the last two minutes begin', -10 * MINUTE, 8 * MINUTE, 0],
    ['and back a millisecond into the last two minutes', -10 * MINUTE, 8 * MINUTE + 1, 13 * MINUTE + 1],
    ['within the last two minutes, for five seconds', -MINUTE, 5 * SECOND, 0],
    ['within the last two minutes, for longer', -MINUTE, 5 * SECOND + 1, 5 * SECOND + 1],
    ['across the closing, for long', -MINUTE, 9 * MINUTE, 23 * MINUTE],
    ['a millisecond before the closing', -1, 30 * SECOND, 30 * SECOND],
    ['a millisecond before the closing, for three seconds', -1, 3 * SECOND, 0],
    ['at the closing', 0, 30 * SECOND, 0],
    ['after it, before any sweep', 2 * SECOND, 10 * MINUTE, 0],
  ])('%s: the winner and the closing are those of the rule', async (_, from, downFor, moved) => {
    const { number, closesAt } = await makeOpenLot(stage, { closesIn: 20 * MINUTE })
    for (const name of ['Ada', 'Ben']) await makeBidder(stage, name)
    await bid('Ada', number, '210')
    await bid('Ben', number, '155')
    stage.clock.set(closesAt + from)
    stage = await restart(stage, downFor)
    if (moved > 0) {
      expect(await frame(number)).toMatchObject({ state: 'open', closesAt: closesAt + moved })
      expect(readHistory(stage.sight(), number).leaves.at(-1)).toMatchObject({ kind: 'outage', shiftMs: moved })
    }
    stage.clock.set(Math.max(stage.clock.now(), closesAt + moved))
    stage = await restart(stage, 0)
    await stage.command(closeDueLots)
    expect(await frame(number)).toMatchObject({ state: 'sold', hammerMinor: 16_500, endedAt: closesAt + moved })
    expect((await (await stage.as('bidder', 'Ada')).bidding.myBids()).lots[0]?.hasWon).toBe(true)
    expect(faults(number)).toEqual([])
  })

  it('a bid that was taken after the last note of being alive stands before the outage, and the history holds', async () => {
    const { number, closesAt } = await makeOpenLot(stage, { closesIn: 20 * MINUTE })
    for (const name of ['Ada', 'Ben']) await makeBidder(stage, name)
    await bid('Ada', number, '210')
    stage.clock.set(closesAt - MINUTE)
    await stage.command(noteAlive)
    stage.clock.pass(700)
    await bid('Ben', number, '155')
    const takenAt = stage.clock.now()
    const { dir } = stage
    stage.house.close()
    stage = openStage({ now: takenAt + 30 * SECOND, dir })
    await stage.command(() => {})
    const told = readHistory(stage.sight(), number).leaves.at(-1)
    expect(told).toMatchObject({ kind: 'outage', from: toIso(takenAt), to: toIso(takenAt + 30 * SECOND) })
    expect(faults(number)).toEqual([])
  })

  it('the silence is counted from what was taken after the last note of being alive: four seconds and a half move nothing', async () => {
    const { number, closesAt } = await makeOpenLot(stage, { closesIn: 20 * MINUTE })
    for (const name of ['Ada', 'Ben']) await makeBidder(stage, name)
    await bid('Ada', number, '210')
    stage.clock.set(closesAt - 10 * MINUTE)
    await stage.command(noteAlive)
    const other = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: MINUTE })
    stage.clock.pass(700)
    await bid('Ben', number, '155')
    const { dir } = stage
    const upAgain = stage.clock.now() + 4.5 * SECOND
    stage.house.close()
    stage = openStage({ now: upAgain, dir })
    await stage.command(() => {})
    expect(readHistory(stage.sight(), other.number).leaves.map(({ kind }) => kind)).not.toContain('outage')
    expect(await frame(other.number)).toMatchObject({ closesAt: other.closesAt })
  })

  it('after every single command changes nothing: same winner, same prices, same closings', async () => {
    const live = async (isRestarted: boolean) => {
      await stage.actor('host')
      const { number, closesAt } = await makeOpenLot(stage, { closesIn: 10 * MINUTE })
      for (const name of ['Ada', 'Ben', 'Cleo']) await makeBidder(stage, name)
      const host = () => stage.as('host')
      const steps: (() => Promise<unknown>)[] = [
        () => bid('Ada', number, '60'),
        () => bid('Ben', number, '80'),
        async () => (await host()).programme.hold({ lot: number, reason: 'Sound.' }),
        async () => (await host()).programme.resume({ lot: number }),
        () => bid('Cleo', number, '300'),
        async () => (await host()).bidding.askVoid({ lot: number, alias: (await frame(number))?.leaderAlias ?? '', reason: 'In error.' }),
        async () => {
          const [asked] = await (await stage.as('maker')).bidding.voidRequests({ lot: number })
          await (await stage.as('maker')).bidding.agreeVoid({ lot: number, alias: asked?.alias ?? '', askedAt: asked?.at ?? 0 })
        },
        () => bid('Ada', number, '120'),
      ]
      for (const step of steps) {
        stage.clock.pass(20 * SECOND)
        await step()
        if (isRestarted) stage = await restart(stage, 0)
        expect(isKeptRight(stage.sight(), number)).toBe(true)
      }
      const until = (await frame(number))?.closesAt ?? closesAt
      stage.clock.set(until)
      await stage.command(closeDueLots)
      return readHistory(stage.sight(), number).leaves.map((leaf) => [
        leaf.kind,
        'standingMinor' in leaf && leaf.standingMinor,
        'closesAt' in leaf && leaf.closesAt,
        'hammerMinor' in leaf && leaf.hammerMinor,
      ])
    }
    const whole = await live(false)
    stage.close()
    stage = openStage()
    expect(await live(true)).toEqual(whole)
  })

  it('wakes an either-or at the official close, though nobody was there to see it', async () => {
    const first = await makeOpenLot(stage, { closesIn: 20 * MINUTE })
    const second = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 60 * MINUTE })
    for (const name of ['Ada', 'Ben']) await makeBidder(stage, name)
    const links = [first, second].map(({ number }) => ({ lot: number, maximum: '80' }))
    await (await stage.as('bidder', 'Ada')).eitherOr.make({ key: 'a-chain-before-a-crash', mostWins: 1, cap: '', links })
    await bid('Ben', first.number, '120')
    stage.clock.set(first.closesAt + 2 * SECOND)
    stage = await restart(stage, 4 * MINUTE)
    await bid('Ben', second.number, '80')
    const bids = readHistory(stage.sight(), second.number).leaves.filter(({ kind }) => kind === 'bid')
    expect(bids.map(({ at }) => Date.parse(at))).toEqual([first.closesAt, stage.clock.now()])
    expect((await (await stage.as('bidder', 'Ada')).bidding.mySide({ lot: second.number })).leads).toBe(true)
    expect(faults(second.number)).toEqual([])
  })
})

it('a house that has moved to another host goes on with the histories it began, under the name they began with', async () => {
  const { number } = await makeOpenLot(stage)
  for (const name of ['Ada', 'Ben']) await makeBidder(stage, name)
  await bid('Ada', number, '50')
  const { dir, clock } = stage
  stage.house.close()
  stage = openStage({ now: clock.now(), dir, publicUrl: 'https://elsewhere.example' })
  await bid('Ben', number, '70')
  expect(readHistory(stage.sight(), number).origin).toBe('bench.example/lots/1')
  expect(faults(number)).toEqual([])
})

describe('clocks', () => {
  it('that jump back take nothing back: a bid after the closing stays too late, stamps never run backwards', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    for (const name of ['Ada', 'Ben']) await makeBidder(stage, name)
    stage.clock.set(closesAt - 1)
    await bid('Ada', number, '50')
    stage.clock.set(closesAt - 30 * MINUTE)
    await bid('Ben', number, '60')
    const [first, second] = readHistory(stage.sight(), number).leaves.filter(({ kind }) => kind === 'bid')
    expect(second?.at).toBe(first?.at)
    stage.clock.set(closesAt + 5 * MINUTE)
    await stage.command(closeDueLots)
    stage.clock.set(closesAt - 30 * MINUTE)
    await expect(bid('Ada', number, '90')).rejects.toThrow('closed')
    expect(faults(number)).toEqual([])
  })

  it('that change for summer between bid and closing move nothing: instants are instants', async () => {
    stage.close()
    stage = openStage({ now: Date.parse('2027-03-28T00:30:00Z') })
    const { number, closesAt } = await makeOpenLot(stage, { closesIn: 60 * MINUTE })
    expect(new Date(closesAt).toISOString()).toBe('2027-03-28T01:30:00.000Z')
    for (const name of ['Ada']) await makeBidder(stage, name)
    stage.clock.set(closesAt - 1)
    await bid('Ada', number, '50')
    expect(await frame(number)).toMatchObject({ closesAt: closesAt - 1 + 2 * MINUTE })
  })
})

describe('a queue full of bids at the last moment', () => {
  it('takes those stamped before the closing, in order, and refuses the rest; each gets its answer', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const bidders: Awaited<ReturnType<typeof makeBidder>>[] = []
    for (let index = 0; index < 10; index++) bidders.push(await makeBidder(stage, `Bidder ${'abcdefghij'[index]}`))
    stage.clock.set(closesAt - 1)
    const answers = Array.from({ length: 200 }, (_, index) => {
      // The clock strikes while the queue is being filled; nothing has been decided yet.
      if (index === 120) stage.clock.set(closesAt)
      const { actor } = bidders[index % 10] ?? { actor: null }
      const key = `last-moment-${String(index).padStart(8, '0')}`
      return stage.command((turn) => actor && placeTypedBid(turn, actor, { lot: number, key, maximum: String(20 + index * 4) }))
    })
    const settled = await Promise.allSettled(answers)
    const taken = settled.filter(({ status }) => status === 'fulfilled').length
    const { leaves } = readHistory(stage.sight(), number)
    expect(leaves.filter(({ kind }) => kind === 'bid')).toHaveLength(taken)
    expect(taken).toBeGreaterThan(10)
    expect(settled.slice(0, 120).some(({ status }) => status === 'fulfilled')).toBe(true)
    // The first of them moved the closing, so that what came at the old one was in time after all.
    expect((await frame(number))?.closesAt).toBe(closesAt + 2 * MINUTE)
    expect(isKeptRight(stage.sight(), number)).toBe(true)
    expect(faults(number)).toEqual([])
  })

  it('that all come at the closing itself are all refused, and the lot closes as it stood', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ada.bid(number, '60')
    stage.clock.set(closesAt)
    const all = await Promise.allSettled(
      Array.from({ length: 200 }, (_, index) => ben.bid(number, String(100 + index), `too-late-by-none-${String(index).padStart(6, '0')}`)),
    )
    expect(all.every(({ status }) => status === 'rejected')).toBe(true)
    await stage.command(closeDueLots)
    expect(await frame(number)).toMatchObject({ state: 'sold', hammerMinor: 2000, bids: 1 })
  })
})
