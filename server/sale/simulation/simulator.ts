import type { Log } from '#runtime/settings/log'
import type { Workshop } from '#runtime/workers/workers'
import { playManyDays } from './many-days.rules'
import type { DayNews, DayQuestion, DayRisk } from './simulation.contract'

export type DayShop = Workshop<DayQuestion, DayRisk, DayNews>

export interface Played {
  question: DayQuestion
  state: 'playing' | 'done' | 'stopped' | 'failed'
  played: number
  risk: DayRisk | null
}

export interface Simulator {
  /** Begins anew; what was being played before is given up. */
  start(question: DayQuestion): void
  stop(): void
  present(): Played | null
  close(): void
}

declare module '#runtime/call/base' {
  interface Opened {
    simulator: Simulator
  }
}

/** Plays on the thread of whoever asks: for tests. */
export const playOnThisThread: DayShop = {
  make: async (question, tell = () => {}) => playManyDays(question, tell),
  stop: () => {},
  close: () => {},
}

/** One play at a time, on a thread beside the house's. */
export function openSimulator(shop: DayShop, log: Log): Simulator {
  let present: Played | null = null

  const stop = () => {
    if (present?.state !== 'playing') return
    present.state = 'stopped'
    shop.stop()
  }

  return {
    start(question) {
      stop()
      const mine: Played = { question, state: 'playing', played: 0, risk: null }
      present = mine
      const hear = ({ played }: DayNews) => {
        mine.played = played
      }
      shop.make(question, hear).then(
        (risk) => Object.assign(mine, { state: 'done', played: question.days, risk }),
        (reason: unknown) => {
          if (mine.state === 'stopped') return
          mine.state = 'failed'
          log.error({ err: reason }, 'the day could not be played')
        },
      )
    },
    stop,
    present: () => present,
    close: shop.close,
  }
}
