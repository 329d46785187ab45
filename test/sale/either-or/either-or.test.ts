import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { holdLotOfUnit } from '#sale/closings/holds.service'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const KEY = 'one-either-or-key'

/** Three lots closing half an hour apart, and two bidders. */
async function makeDay() {
  const lots = [
    await makeOpenLot(stage, { tag: 'TERN-03', closesIn: 30 * MINUTE }),
    await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 60 * MINUTE }),
    await makeOpenLot(stage, { tag: 'TERN-05', closesIn: 90 * MINUTE }),
  ]
  const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
  const make = (maxima: string[], change: { mostWins?: number; cap?: string; key?: string } = {}) =>
    ada.caller.eitherOr.make({
      key: KEY,
      mostWins: 1,
      cap: '',
      links: maxima.map((maximum, index) => ({ lot: lots[index]?.number ?? 0, maximum })),
      ...change,
    })
  const closeAt = async (index: number, late = 0) => {
    stage.clock.set((lots[index]?.closesAt ?? 0) + late)
    await stage.command(closeDueLots)
  }
  const frame = (index: number) => stage.visitor().bidding.frame({ lot: lots[index]?.number ?? 0 })
  const mine = async () => (await ada.caller.eitherOr.mine())[0]
  return { lots, ada, ben, make, closeAt, frame, mine }
}

describe('an either-or', () => {
  it('stands on the first lot at once with a receipt, and wakes on the next when the first is lost, at its official close', async () => {
    const { lots, ben, make, closeAt, frame, mine, ada } = await makeDay()
    const { eitherOr, bids } = await make(['80', '90', '90'])
    expect(eitherOr.links.map(({ phase }) => phase)).toEqual(['awake', 'waiting', 'waiting'])
    expect(bids).toMatchObject([{ lot: 1, leads: true, receipt: { opening: { amountMinor: 8000 } } }])
    await ben.bid(1, '120')
    await closeAt(0, 20 * SECOND)
    expect((await mine())?.links).toMatchObject([{ phase: 'lost' }, { phase: 'awake', leads: true }, { phase: 'waiting' }])
    const history = readHistory(stage.sight(), 2)
    expect(history.leaves.at(-1)).toMatchObject({ kind: 'bid', at: new Date(lots[0]?.closesAt ?? 0).toISOString() })
    const told = (await gathered(stage)).filter(({ recipient }) => recipient === ada.actor.email)
    expect(told.at(-1)?.body).toMatch(/did not win lot 1[\s\S]*Your bid on lot 2, .* now counts/)
    await closeAt(1)
    expect(await frame(1)).toMatchObject({ state: 'sold', hammerMinor: 2000 })
    expect((await mine())?.links).toMatchObject([{}, { phase: 'won', hammerMinor: 2000 }, { phase: 'lapsed', why: 'One was won.' }])
    for (const number of [1, 2]) {
      expect(checkHistory(JSON.parse(JSON.stringify(readHistory(stage.sight(), number)))).filter(({ isSound }) => !isSound)).toEqual([])
      expect(isKeptRight(stage.sight(), number)).toBe(true)
    }
  })

  it('arrives before a bid that came after the close, even when that bid is what settles it', async () => {
    const { ada, lots, ben, make, frame } = await makeDay()
    await make(['80', '90'])
    await ben.bid(1, '120')
    stage.clock.set((lots[0]?.closesAt ?? 0) + 3 * SECOND)
    await ben.bid(2, '90')
    expect((await ada.caller.bidding.mySide({ lot: 2 })).leads).toBe(true)
    expect(await frame(1)).toMatchObject({ standingMinor: 9000, bids: 2 })
    expect((await ben.caller.bidding.mySide({ lot: 2 })).leads).toBe(false)
  })

  it('links no aliases: another one on each lot, drawn as for anybody', async () => {
    const { make, ben, closeAt, ada } = await makeDay()
    await make(['80', '90'])
    await ben.bid(1, '120')
    await closeAt(0)
    const aliases = (await ada.caller.bidding.myBids()).lots.map(({ alias }) => alias)
    expect(new Set(aliases).size).toBe(2)
    const histories = JSON.stringify([readHistory(stage.sight(), 1), readHistory(stage.sight(), 2)])
    expect(histories).not.toMatch(/chain|either/i)
  })

  it('is made once for one key, and another content under it is refused', async () => {
    const { make, frame } = await makeDay()
    const first = await make(['80', '90'])
    expect(await make(['80', '90'])).toEqual(first)
    await expect(make(['80', '95'])).rejects.toThrow('already sent')
    expect(await frame(0)).toMatchObject({ bids: 1 })
  })

  it('takes no direct bid on its lots, nor a lot that was bid on or stands in another one', async () => {
    const { ada, make } = await makeDay()
    await ada.bid(3, '50')
    await expect(make(['80', '90', '90'])).rejects.toThrow('You have bid on lot 3 already')
    await make(['80', '90'])
    await expect(ada.bid(2, '100')).rejects.toThrow('is in your either-or')
    await expect(make(['80', '90'], { key: 'another-either-or-key' })).rejects.toThrow('is already in another of your either-ors')
    expect((await ada.caller.bidding.mySide({ lot: 2 })).isInEitherOr).toBe(true)
  })

  it.each([
    [['80', 'x'], {}, 'is not an amount'],
    [['80', '19.99'], {}, 'needs at least £20.00'],
    [['80', '1000.01'], {}, 'Your paddle may bid up to'],
    [['80', '90'], { cap: '85' }, 'more than your cap of £85.00'],
    [['80', '90'], { mostWins: 3 }, 'that many at most'],
    [['80'], {}, 'at least two lots'],
  ])('of %j %j is refused beside what is wrong, and nothing is kept', async (maxima, change, words) => {
    const { make, ada, frame } = await makeDay()
    await expect(make(maxima, change)).rejects.toThrow(words)
    expect(await ada.caller.eitherOr.mine()).toEqual([])
    expect(await frame(0)).toMatchObject({ bids: 0 })
  })

  it('can cost its dearest lot and no more, with postage', async () => {
    const { ada, make } = await makeDay()
    await make(['80', '90', '60'])
    expect((await ada.caller.bidding.myBids()).mostMinor).toBe(9000 + 1200)
  })

  it('what waits can be changed or taken back, what stands can only be raised', async () => {
    const { ada, make, mine } = await makeDay()
    const { eitherOr } = await make(['80', '90'])
    const change = (lot: number, maximum: string) =>
      ada.caller.eitherOr.changeLink({ key: `change-${lot}-${maximum}-of-an-either-or`, eitherOr: eitherOr.id, lot, maximum })
    expect((await change(2, '60')).eitherOr.links[1]).toMatchObject({ maximumMinor: 6000, phase: 'waiting' })
    await expect(change(1, '70')).rejects.toThrow('never lowered')
    expect((await change(1, '100')).bids).toMatchObject([{ maximumMinor: 10_000, leads: true }])
    await ada.caller.eitherOr.drop({ eitherOr: eitherOr.id })
    expect((await mine())?.links).toMatchObject([{ phase: 'awake' }, { phase: 'lapsed', why: 'You withdrew it.' }])
    await expect((await makeBidder(stage, 'Cleo')).caller.eitherOr.drop({ eitherOr: eitherOr.id })).rejects.toThrow(
      'You have no such either-or',
    )
  })

  it('may begin with a lot that was bid on: that very bid is its first, and a higher one raises it', async () => {
    const { ada, ben, lots, closeAt, mine } = await makeDay()
    const made = (first: string, key = KEY) =>
      ada.caller.eitherOr.make({
        key,
        mostWins: 1,
        cap: '',
        links: [
          { lot: 1, maximum: first },
          { lot: 2, maximum: '90' },
        ],
      })
    await ada.bid(1, '80')
    expect((await ada.caller.eitherOr.lots()).map(({ number, hasBid, ownMinor }) => [number, hasBid, ownMinor])).toEqual([
      [1, true, 8000],
      [2, false, null],
      [3, false, null],
    ])
    await expect(made('70')).rejects.toThrow('You lead lot 1 and allow up to £80.00')
    await expect(
      ada.caller.eitherOr.make({
        key: KEY,
        mostWins: 1,
        cap: '',
        links: [
          { lot: 2, maximum: '90' },
          { lot: 1, maximum: '90' },
        ],
      }),
    ).rejects.toThrow('Put it first')
    const { bids } = await made('80')
    expect(bids).toEqual([])
    expect((await mine())?.links).toMatchObject([{ phase: 'awake', leads: true }, { phase: 'waiting' }])
    expect(readHistory(stage.sight(), 1).leaves.filter(({ kind }) => kind === 'bid')).toHaveLength(1)
    await ben.bid(1, '120')
    await closeAt(0)
    expect((await mine())?.links).toMatchObject([{ phase: 'lost' }, { phase: 'awake', leads: true }])
    expect(isKeptRight(stage.sight(), lots[1]?.number ?? 0)).toBe(true)
  })

  it('that begins with a lot where its maker was outbid takes the next maximum there as a bid', async () => {
    const { ada, ben, make, mine } = await makeDay()
    await ada.bid(1, '30')
    await ben.bid(1, '60')
    expect((await make(['80', '90'])).bids).toMatchObject([{ lot: 1, leads: true, maximumMinor: 8000 }])
    expect((await mine())?.links).toMatchObject([{ phase: 'awake', leads: true }, { phase: 'waiting' }])
  })

  it('that waits for its first lot is told that the clock goes on, not that a lot before it was lost', async () => {
    const { lots, make, mine } = await makeDay()
    await stage.command((turn) => holdLotOfUnit(turn, lots[0]?.unitId ?? '', 'A batch is suspect.'))
    expect((await make(['80', '90'])).bids).toEqual([])
    stage.clock.pass(5 * MINUTE)
    await (await stage.as('host')).programme.resume({ lot: 1 })
    expect((await mine())?.links).toMatchObject([{ phase: 'awake' }, { phase: 'waiting' }])
    const told = (await gathered(stage)).find(({ subject }) => subject.includes('now counts'))
    expect(told?.body).toContain('Its clock is running again, so your maximum')
  })

  it('waits for a lot that is on hold, and wakes when its clock goes on', async () => {
    const { lots, ben, make, closeAt, mine } = await makeDay()
    await make(['80', '90'])
    await ben.bid(1, '120')
    await stage.command((turn) => holdLotOfUnit(turn, lots[1]?.unitId ?? '', 'A batch is suspect.'))
    await closeAt(0)
    expect((await mine())?.links).toMatchObject([{ phase: 'lost' }, { phase: 'waiting' }])
    stage.clock.pass(5 * MINUTE)
    await (await stage.as('host')).programme.resume({ lot: 2 })
    expect((await mine())?.links).toMatchObject([{ phase: 'lost' }, { phase: 'awake' }])
  })

  it('lapses in words when it can no longer be, and says so by email', async () => {
    const { ben, make, closeAt, mine, ada } = await makeDay()
    await make(['80', '90'])
    await ben.bid(1, '120')
    await ben.bid(2, '50')
    await (await makeBidder(stage, 'Cleo')).bid(2, '200')
    await ben.bid(2, '150')
    await closeAt(0)
    expect((await mine())?.links[1]).toMatchObject({ phase: 'lapsed', why: 'A bid had to be at least £170.00 by then.' })
    const told = (await gathered(stage)).filter(({ recipient }) => recipient === ada.actor.email)
    expect(told.at(-1)?.body).toMatch(/Your maximum for lot 2, .* has lapsed/)
  })

  it('warns when the programme makes a lapse likely', async () => {
    const { lots, make } = await makeDay()
    const { eitherOr } = await make(['80', '90'])
    expect(eitherOr.warnings).toEqual([])
    await (await stage.as('host')).bidding.extend({ lot: lots[0]?.number ?? 0, minutes: 25, reason: 'A guest.' })
    expect((await (await stage.as('bidder', 'Ada')).eitherOr.mine())[0]?.warnings).toEqual([
      'Lot 2 closes soon after lot 1: late bids there could make it lapse.',
    ])
  })

  it('two lots at the same second: the lower number closes first, and what would wake at that instant is too late', async () => {
    const first = await makeOpenLot(stage, { tag: 'TERN-03', closesIn: 30 * MINUTE })
    const second = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 30 * MINUTE })
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    const links = [first, second].map(({ number }) => ({ lot: number, maximum: '80' }))
    await ada.caller.eitherOr.make({ key: KEY, mostWins: 1, cap: '', links })
    await ben.bid(first.number, '120')
    stage.clock.set(first.closesAt)
    await stage.command(closeDueLots)
    expect((await ada.caller.eitherOr.mine())[0]?.links).toMatchObject([{ phase: 'lost' }, { phase: 'lapsed', why: 'Lot 2 closed first.' }])
    expect(stage.facts().flatMap(({ kind, subject }) => (kind === 'lot.closed' ? [subject] : []))).toEqual(['lot:1', 'lot:2'])
  })
})
