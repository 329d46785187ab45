import { z } from 'zod'
import { text } from '#kernel/text'
import { router, staff } from '#runtime/call/base'
import { readOutbox, tryLetterAgain } from './outbox.service'

export const outboxRouter = router({
  list: staff('maker').query(({ ctx }) => readOutbox(ctx.sight())),
  again: staff('maker')
    .input(z.strictObject({ id: text(80, 'There is no such letter here.') }))
    .mutation(({ ctx, input }) => ctx.command((turn) => tryLetterAgain(turn, input))),
})
