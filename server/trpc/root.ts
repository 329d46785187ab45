import { campaignRouter } from '../campaign/campaign.router'
import { donorsRouter } from '../donors/donors.router'
import { outboxRouter } from '../outbox/outbox.router'
import { parcelsRouter } from '../parcels/parcels.router'
import { partsRouter } from '../parts/parts.router'
import { peopleRouter } from '../people/people.router'
import { callerOf, router } from './base'

export const rootRouter = router({
  campaign: campaignRouter,
  donors: donorsRouter,
  outbox: outboxRouter,
  parcels: parcelsRouter,
  parts: partsRouter,
  people: peopleRouter,
})

export type RootRouter = typeof rootRouter

export const createCaller = callerOf(rootRouter)
