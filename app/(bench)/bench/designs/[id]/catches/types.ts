import type { inferRouterOutputs } from '@trpc/server'
import type { RootRouter } from '../../../../../../server/trpc/root'

export type Catches = inferRouterOutputs<RootRouter>['faults']['catches']
