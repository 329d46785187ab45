import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { ClockBehind } from '#house/open/starting-stamp'
import { HOUR, type Instant, MINUTE, SECOND } from '#kernel/instant'
import { noteAlive } from '#runtime/queue/alive'
import type { Machine } from '#runtime/queue/machine'
import { readHistory } from '#sale/history/history.service'
import { findLot } from '#sale/lots/lots.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

/** A machine that has been up for so many seconds since the start of this name. */
const machineUp = (seconds: number, start: string | null = 'Monday'): Machine => ({
  passed: () => seconds * 1000,
  up: () => ({ seconds, start }),
})

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

/** Closes the house, and opens it again when the wall says this. */
function reopen(now: Instant, more: { machine?: Machine; isClockRight?: boolean } = {}): Stage {
  stage.house.close()
  return openStage({ dir: stage.dir, now, ...more })
}

describe('a house that is opened by a clock that stands before what was done last', () => {
  it('is refused with by how much, and what to do; nothing was changed', async () => {
    await makeOpenLot(stage)
    stage.house.close()
    const open = () => openStage({ dir: stage.dir, now: NOON - HOUR })
    expect(open).toThrow(ClockBehind)
    expect(open).toThrow(/60 minutes behind what was done here last.*Set the clock and start again/s)
    stage = openStage({ dir: stage.dir, now: NOON + 1 })
    await stage.command(() => {})
  })

  it('opens when somebody says that the clock is right, and then no stamp runs backwards', async () => {
    const { number } = await makeOpenLot(stage, { closesIn: 3 * HOUR })
    await makeBidder(stage, 'Ada')
    stage.clock.pass(HOUR)
    await (await stage.as('bidder', 'Ada')).bidding.place({ key: 'the-first-of-two-bids', lot: number, maximum: '50' })
    stage = reopen(NOON, { isClockRight: true })
    await (await stage.as('bidder', 'Ada')).bidding.place({ key: 'the-second-of-two-bids', lot: number, maximum: '90' })
    const stamps = readHistory(stage.sight(), number).leaves.map(({ at }) => at)
    expect(stamps).toEqual([...stamps].sort())
    expect(stamps.length).toBeGreaterThan(2)
  })

  it('a step of a second is taken without a word', async () => {
    stage.clock.pass(MINUTE)
    await stage.command((turn) => noteAlive(turn))
    stage = reopen(NOON + MINUTE - SECOND)
    const at = await stage.command((turn) => turn.now)
    expect(at).toBe(NOON + MINUTE)
  })
})

describe('a wall that was set forward while the house was closed', () => {
  const closesAtAfter = async (machine: Machine) => {
    const { number, closesAt } = await makeOpenLot(stage, { closesIn: HOUR + MINUTE })
    await stage.command((turn) => noteAlive(turn, machineUp(1_000)))
    stage = reopen(NOON + HOUR, { machine })
    await stage.command(() => {})
    return { was: closesAt, is: findLot(stage.sight(), number)?.closesAt }
  }

  it('is no silence: the machine knows that ten seconds went by, and by these the closing moves', async () => {
    const { was, is } = await closesAtAfter(machineUp(1_010))
    expect(is).toBe(was + 10 * SECOND)
  })

  it('counts where the machine was started anew, or the hour did go by on it', async () => {
    const { was, is } = await closesAtAfter(machineUp(40, 'Tuesday'))
    expect(is).toBeGreaterThan(was)
  })

  it('counts where the hour went by on the machine as well', async () => {
    const { was, is } = await closesAtAfter(machineUp(1_000 + 3_600))
    expect(is).toBeGreaterThan(was)
  })
})
