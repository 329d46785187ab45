import { confirmed, staff } from '#runtime/call/base'
import { lotAnswer } from '../lots/lot-answer.rules'
import { answerVoidIn, askVoidIn } from './bidding.contract'
import { agreeVoid, askVoid, dropVoid } from './voids.service'

/** Two people void a bid: one of the first asks, another, who may be one of the second too, agrees. */
const mayAsk = confirmed('maker', 'host')
const mayAgree = confirmed('maker', 'host', 'treasurer')
const mayDrop = staff('maker', 'host', 'treasurer')

export const voidProcedures = {
  askVoid: mayAsk.input(askVoidIn).mutation(({ ctx, input }) => ctx.command((turn) => askVoid(turn, ctx.actor, input))),
  agreeVoid: mayAgree.input(answerVoidIn).mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(agreeVoid(turn, ctx.actor, input)))),
  dropVoid: mayDrop.input(answerVoidIn).mutation(({ ctx, input }) => ctx.command((turn) => dropVoid(turn, input))),
}
