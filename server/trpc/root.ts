import { campaignRouter } from '../campaign/campaign.router'
import { outboxRouter } from '../outbox/outbox.router'
import { peopleRouter } from '../people/people.router'
import { callerOf, router } from './base'

export const rootRouter = router({
  campaign: campaignRouter,
  outbox: outboxRouter,
  people: peopleRouter,
})

export type RootRouter = typeof rootRouter

export const createCaller = callerOf(rootRouter)
