import type { Instant } from '#kernel/instant'
import type { Log } from '#runtime/settings/log'
import type { Workshop } from '#runtime/workers/workers'
import { answerPlan } from './plan-solver'
import type { Plan, PlanAnswer, PlanNews, PlanQuestion, WayOut, WishPrice } from './planning.contract'

export type PlanShop = Workshop<PlanQuestion, PlanAnswer, PlanNews>

/** How far the planning is that was asked for last; kept while the house is open. */
export interface Planning {
  question: PlanQuestion
  /** When the stream day begins that it is about: the instant of slot 0. */
  opensAt: Instant
  state: 'searching' | 'pricing' | 'done' | 'nothing-fits' | 'stopped' | 'failed'
  seconds: number
  bestMinor: number | null
  boundMinor: number | null
  plan: Plan | null
  prices: WishPrice[]
  together: string[]
  ways: WayOut[]
}

export interface Planner {
  /** Begins anew; what was being planned before is given up. */
  start(question: PlanQuestion, opensAt: Instant): void
  /** Ends the search; a plan that was found stays. */
  stop(): void
  present(): Planning | null
  close(): void
}

declare module '#runtime/call/base' {
  interface Opened {
    planner: Planner
  }
}

/** Plans on the thread of whoever asks: for tests. */
export const planOnThisThread: PlanShop = {
  make: (question, tell = () => {}) => answerPlan(question, tell),
  stop: () => {},
  close: () => {},
}

/** One planning at a time, on a thread beside the house's. */
export function openPlanner(shop: PlanShop, log: Log): Planner {
  let present: Planning | null = null

  const hear = (mine: Planning, news: PlanNews) => {
    if (news.stage === 'searching' && mine.state === 'searching') Object.assign(mine, news)
    if (news.stage === 'planned')
      Object.assign(mine, { state: 'pricing', plan: news.plan, bestMinor: news.worthMinor, boundMinor: news.boundMinor })
    if (news.stage === 'priced') mine.prices = [...mine.prices, news.price]
  }

  const isRunning = (one: Planning | null) => one?.state === 'searching' || one?.state === 'pricing'

  const stop = () => {
    if (!present || !isRunning(present)) return
    present.state = 'stopped'
    shop.stop()
  }

  return {
    start(question, opensAt) {
      stop()
      const mine: Planning = {
        question,
        opensAt,
        state: 'searching',
        seconds: 0,
        bestMinor: null,
        boundMinor: null,
        plan: null,
        prices: [],
        together: [],
        ways: [],
      }
      present = mine
      shop
        .make(question, (news) => hear(mine, news))
        .then(
          (answer) => {
            mine.seconds = answer.seconds
            if (answer.fits) Object.assign(mine, { state: 'done', plan: answer.plan, prices: answer.prices })
            else Object.assign(mine, { state: 'nothing-fits', together: answer.together, ways: answer.ways })
          },
          (reason: unknown) => {
            if (mine.state === 'stopped') return
            mine.state = 'failed'
            log.error({ err: reason }, 'the day could not be planned')
          },
        )
    },
    stop,
    present: () => present,
    close: shop.close,
  }
}
