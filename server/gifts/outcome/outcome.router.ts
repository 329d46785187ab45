import { z } from 'zod'
import { idIn } from '#kernel/text'
import { router, staff } from '#runtime/call/base'
import { donorPage } from './donor-page.service'
import { listSoldThanksDue, sendSoldThanks } from './sold-thanks.service'
import { soldThanksIn, thanksIn } from './thanks.contract'
import { listThanksDue, sendThanks } from './thanks.service'

const handles = staff('maker', 'volunteer')

export const outcomeRouter = router({
  donorPage: handles.input(z.strictObject({ donorId: idIn() })).query(({ ctx, input }) => donorPage(ctx.sight(), input.donorId)),
  thanksDue: handles.query(({ ctx }) => listThanksDue(ctx.sight())),
  soldThanksDue: handles.query(({ ctx }) => listSoldThanksDue(ctx.sight())),
  thank: handles.input(thanksIn).mutation(({ ctx, input }) => ctx.command((turn) => sendThanks(turn, ctx.actor, input))),
  thankSold: handles.input(soldThanksIn).mutation(({ ctx, input }) => ctx.command((turn) => sendSoldThanks(turn, ctx.actor, input))),
})
