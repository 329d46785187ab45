import { z } from 'zod'
import { router, staff } from '#runtime/call/base'
import { readOutbox, tryLetterAgain } from './outbox.service'

export const outboxRouter = router({
  list: staff('maker').query(({ ctx }) => readOutbox(ctx.sight())),
  again: staff('maker')
    .input(z.strictObject({ id: z.string().max(80, 'That is no letter of this house.') }))
    .mutation(({ ctx, input }) => ctx.command((turn) => tryLetterAgain(turn, input))),
})
