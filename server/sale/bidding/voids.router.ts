import { confirmed, staff } from '#runtime/call/base'
import { lotAnswer } from '../lots/lot-answer.rules'
import { agreeVoidIn, askVoidIn, dropVoidIn, lotNumberIn } from './bidding.contract'
import { agreeVoid, askVoid, dropVoid, listVoidRequests, lotsWithVoidsWaiting } from './voids.service'

/** Two people void a bid: one of the first asks, another, who may be one of the second too, agrees. */
const mayAsk = confirmed('maker', 'host')
const mayAgree = confirmed('maker', 'host', 'treasurer')
const mayRead = staff('maker', 'host', 'treasurer')
const mayDrop = mayRead

export const voidProcedures = {
  voidRequests: mayRead.input(lotNumberIn).query(({ ctx, input }) => listVoidRequests(ctx.sight(), ctx.actor, input.lot)),
  voidsWaiting: mayRead.query(({ ctx }) => lotsWithVoidsWaiting(ctx.sight())),
  askVoid: mayAsk.input(askVoidIn).mutation(({ ctx, input }) => ctx.command((turn) => askVoid(turn, ctx.actor, input))),
  agreeVoid: mayAgree.input(agreeVoidIn).mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(agreeVoid(turn, ctx.actor, input)))),
  dropVoid: mayDrop.input(dropVoidIn).mutation(({ ctx, input }) => ctx.command((turn) => dropVoid(turn, input))),
}
