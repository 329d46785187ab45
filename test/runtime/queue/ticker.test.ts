import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { Queue } from '#runtime/queue/queue'
import { openTicker, type Sweep, type Ticker } from '#runtime/queue/ticker'
import type { Sight, Turn } from '#runtime/queue/turn'
import { openLog } from '#runtime/settings/log'

const START = Date.parse('2027-03-13T12:00:00Z')

let ticker: Ticker | undefined
beforeEach(() => {
  vi.useFakeTimers({ now: START })
})
afterEach(() => {
  ticker?.stop()
  vi.useRealTimers()
})

const clock = { now: () => Date.now() }
const sight = () => ({ now: Date.now() }) as Sight
const queue = { run: async (work: (turn: Turn) => unknown) => work({ now: Date.now() } as Turn) } as unknown as Queue
const open = (sweeps: Sweep[], log = openLog('silent')) => {
  ticker = openTicker({ sweeps, sight, queue, clock, log })
  return ticker
}
/** Due every second; counts how often it was run. */
function everySecond(name: string) {
  let next = START + 1_000
  const sweep = {
    name,
    runs: 0,
    nextAt: () => next,
    run: () => {
      sweep.runs += 1
      next += 1_000
    },
  }
  return sweep
}

describe('the ticker', () => {
  it('runs what is due, each at its time', async () => {
    const one = everySecond('one')
    open([one])
    await vi.advanceTimersByTimeAsync(5_500)
    expect(one.runs).toBe(5)
  })

  it('outlives a sweep that cannot say when it is due, and one that throws: the others go on', async () => {
    const good = everySecond('good')
    const broken: Sweep = {
      name: 'broken',
      nextAt: () => {
        throw new Error('no such table')
      },
      run: () => {},
    }
    const throwing: Sweep = {
      name: 'throwing',
      nextAt: () => START,
      run: () => {
        throw new Error('out of luck')
      },
    }
    open([broken, throwing, good])
    await vi.advanceTimersByTimeAsync(10_500)
    expect(good.runs).toBe(10)
    expect(ticker?.state().failing).toEqual(['broken', 'throwing'])
  })

  it('tries again what failed, each time later, and forgets it when it went well', async () => {
    let isRoom = false
    let tries = 0
    const full: Sweep = {
      name: 'full',
      nextAt: () => (tries > 0 && isRoom ? null : START),
      run: () => {
        tries += 1
        if (!isRoom) throw new Error('the disk is full')
      },
    }
    const log = openLog('silent')
    const said = vi.spyOn(log, 'error').mockImplementation(() => {})
    open([full], log)
    await vi.advanceTimersByTimeAsync(60_000)
    // At 0, 0.5, 1.5, 3.5 and then every four seconds.
    expect(tries).toBeGreaterThan(14)
    expect(tries).toBeLessThan(22)
    expect(said.mock.calls.length).toBeLessThanOrEqual(5)
    isRoom = true
    await vi.advanceTimersByTimeAsync(5_000)
    expect(ticker?.state().failing).toEqual([])
  })

  it('looks at what is due every ten seconds, though nothing is', async () => {
    open([{ name: 'never', nextAt: () => null, run: () => {} }])
    await vi.advanceTimersByTimeAsync(35_000)
    expect(performance.now() - (ticker?.state().lookedAt ?? 0)).toBeLessThanOrEqual(10_000)
  })
})
