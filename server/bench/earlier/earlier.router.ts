import { router, staff } from '#runtime/call/base'
import { forgetEarlierIn } from './earlier.contract'
import { forgetEarlier, readEarlier } from './earlier.service'

export const earlierRouter = router({
  read: staff('maker').query(({ ctx }) => readEarlier(ctx.sight())),
  forget: staff('maker')
    .input(forgetEarlierIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => forgetEarlier(turn, input.id))),
})
