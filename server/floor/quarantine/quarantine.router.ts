import { z } from 'zod'
import { idIn } from '#kernel/text'
import { router, staff } from '#runtime/call/base'
import { listNotices, tell } from './notices.service'
import { quarantineIn, tellIn } from './quarantine.contract'
import { clearBatch, quarantineBatch, whatItTouches } from './quarantine.service'

export const quarantineRouter = router({
  touches: staff('maker', 'volunteer')
    .input(z.strictObject({ batchId: idIn() }))
    .query(({ ctx, input }) => whatItTouches(ctx.sight(), input.batchId)),
  batch: staff('maker')
    .input(quarantineIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => quarantineBatch(turn, ctx.actor, input))),
  notices: staff('maker').query(({ ctx }) => listNotices(ctx.sight())),
  tell: staff('maker')
    .input(tellIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => tell(turn, ctx.actor, input))),
  clear: staff('maker')
    .input(quarantineIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => clearBatch(turn, ctx.actor, input))),
})
