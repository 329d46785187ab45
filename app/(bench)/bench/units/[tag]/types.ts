import type { inferRouterOutputs } from '@trpc/server'
import type { RootRouter } from '#doors/trpc/root'

type Out = inferRouterOutputs<RootRouter>['bringup']

export type Instruments = Out['instruments']
export type Choices = Out['choices']
export type Preview = Out['previewRework']
