import { router, staff } from '#runtime/call/base'
import { readVitals } from './vitals.service'

export const vitalsRouter = router({
  read: staff('maker').query(({ ctx }) => readVitals(ctx.sight(), ctx.vitals, !ctx.isDemo)),
})
