import { confirmed, staff } from '#runtime/call/base'
import { lotAnswer } from '../lots/lot-answer.rules'
import { elsewhereResultIn, extendIn, openAllIn, openIn, withdrawIn } from './closings.contract'
import { extendClosing, withdrawLot } from './closings.service'
import { enterElsewhereResult } from './elsewhere.service'
import { openLot, openLots } from './opening.service'

/** How the staff open a lot, give it time and end it. Clocks stop and go on with the programme, since the day moves with them. */
export const closingProcedures = {
  open: staff('maker')
    .input(openIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(openLot(turn, ctx.actor, input)))),
  openAll: staff('maker')
    .input(openAllIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => openLots(turn, ctx.actor, input))),
  extend: staff('maker', 'host')
    .input(extendIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(extendClosing(turn, ctx.actor, input)))),
  withdraw: confirmed('maker')
    .input(withdrawIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(withdrawLot(turn, ctx.actor, input)))),
  elsewhereResult: staff('maker', 'treasurer')
    .input(elsewhereResultIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(enterElsewhereResult(turn, ctx.actor, input)))),
}
