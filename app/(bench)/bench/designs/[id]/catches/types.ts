import type { inferRouterOutputs } from '@trpc/server'
import type { RootRouter } from '#doors/trpc/root'

export type Catches = inferRouterOutputs<RootRouter>['faults']['catches']
