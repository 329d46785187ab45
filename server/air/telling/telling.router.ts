import { router, staff } from '#runtime/call/base'
import { describeIn } from './telling.contract'
import { readDescription } from './telling.service'

export const tellingRouter = router({
  /** The text under a video of the day. */
  describe: staff('maker', 'host')
    .input(describeIn)
    .query(({ ctx, input }) => readDescription(ctx.sight(), input)),
})
