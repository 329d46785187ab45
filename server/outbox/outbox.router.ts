import { router, staff } from '../trpc/base'
import { readOutbox } from './outbox.service'

export const outboxRouter = router({
  list: staff('maker').query(({ ctx }) => readOutbox(ctx.sight())),
})
