import { beforeEach, describe, expect, it } from 'vitest'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'
import { type Clockworks, type Machine, openMachine } from '#runtime/queue/machine'
import { stampsFrom, wallClock } from '#runtime/queue/stamp'

const START = Date.parse('2027-03-13T12:00:00Z')

// What a machine's three clocks show after what happened to it.
let works: { wall: number; monotonic: number; up: number }
let machine: Machine
beforeEach(() => {
  works = { wall: START, monotonic: 5_000, up: 90 }
  const read: Clockworks = {
    wall: () => works.wall,
    monotonic: () => works.monotonic,
    upSeconds: () => Math.round(works.up),
    start: () => 'this start',
  }
  machine = openMachine(read)
})
const pass = (ms: number) => {
  works.wall += ms
  works.monotonic += ms
  works.up += ms / 1000
}
/** The lid is closed: wall and uptime go on, the monotonic clock stands still. */
const sleep = (ms: number) => {
  works.wall += ms
  works.up += ms / 1000
}
const setWall = (by: number) => {
  works.wall += by
}
/** Milliseconds that go by while something happens. */
const during = (happens: () => void) => {
  const before = machine.passed()
  happens()
  return machine.passed() - before
}

describe('what goes by on a machine', () => {
  it('is what the monotonic clock says', () => {
    expect(during(() => pass(10 * MINUTE))).toBe(10 * MINUTE)
  })

  it('goes on while it sleeps, to a second', () => {
    expect(Math.abs(during(() => sleep(40 * MINUTE)) - 40 * MINUTE)).toBeLessThanOrEqual(1_000)
    expect(during(() => pass(MINUTE))).toBe(MINUTE)
    expect(Math.abs(during(() => sleep(2 * HOUR)) - 2 * HOUR)).toBeLessThanOrEqual(2_000)
  })

  it('is nothing while somebody sets the wall, forward or back', () => {
    expect(during(() => setWall(HOUR))).toBe(0)
    expect(during(() => setWall(-3 * HOUR))).toBe(0)
    expect(during(() => pass(SECOND))).toBe(SECOND)
  })

  it('is the sleep alone where the wall was set as well', () => {
    const went = during(() => {
      sleep(30 * MINUTE)
      setWall(-HOUR)
    })
    expect(Math.abs(went - 30 * MINUTE)).toBeLessThanOrEqual(1_000)
  })

  it('never runs backwards', () => {
    let last = machine.passed()
    for (const happens of [() => sleep(20_000), () => setWall(-HOUR), () => pass(10), () => sleep(3_000), () => setWall(HOUR)]) {
      happens()
      expect(machine.passed()).toBeGreaterThanOrEqual(last)
      last = machine.passed()
    }
  })
})

describe('the clock of the house', () => {
  it('has slept as long as the machine when it wakes, and does not follow a wall that was set', () => {
    const clock = wallClock(machine, () => works.wall)
    expect(clock.now()).toBe(START)
    sleep(40 * MINUTE)
    expect(Math.abs(clock.now() - (START + 40 * MINUTE))).toBeLessThanOrEqual(1_000)
    const before = clock.now()
    setWall(HOUR)
    pass(MINUTE)
    expect(clock.now()).toBe(before + MINUTE)
  })

  it('stamps nothing before what was stamped last, in an earlier run either', () => {
    const stamp = stampsFrom(
      wallClock(machine, () => works.wall),
      START + MINUTE,
    )
    expect(stamp()).toBe(START + MINUTE)
    pass(2 * MINUTE)
    expect(stamp()).toBe(START + 2 * MINUTE)
  })
})
