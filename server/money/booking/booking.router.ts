import { confirmed, router, staff } from '#runtime/call/base'
import * as shape from './booking.contract'
import * as receive from './receive.service'
import * as spend from './spend.service'
import * as undo from './undo.service'

const treasurer = staff('treasurer')
/** Money that leaves, or that is owed back from now on. */
const sureTreasurer = confirmed('treasurer')

export const bookingRouter = router({
  pay: treasurer.input(shape.paymentIn).mutation(({ ctx, input }) => ctx.command((turn) => receive.recordPayment(turn, ctx.actor, input))),
  cameUnknown: treasurer
    .input(shape.unplacedIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => receive.recordUnplaced(turn, ctx.actor, input))),
  place: treasurer.input(shape.placeIn).mutation(({ ctx, input }) => ctx.command((turn) => receive.placeUnplaced(turn, ctx.actor, input))),
  refund: sureTreasurer
    .input(shape.refundIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => receive.recordRefund(turn, ctx.actor, input))),
  give: treasurer
    .input(shape.moneyGiftIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => receive.recordMoneyGift(turn, ctx.actor, input))),
  cost: treasurer.input(shape.costIn).mutation(({ ctx, input }) => ctx.command((turn) => spend.recordCost(turn, ctx.actor, input))),
  fee: treasurer.input(shape.feeIn).mutation(({ ctx, input }) => ctx.command((turn) => spend.recordFee(turn, ctx.actor, input))),
  remit: sureTreasurer
    .input(shape.remittanceIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => spend.recordRemittance(turn, ctx.actor, input))),
  postage: treasurer.input(shape.postageIn).mutation(({ ctx, input }) => ctx.command((turn) => undo.setPostage(turn, ctx.actor, input))),
  reduce: sureTreasurer.input(shape.reduceIn).mutation(({ ctx, input }) => ctx.command((turn) => undo.reducePrice(turn, ctx.actor, input))),
  fallThrough: sureTreasurer
    .input(shape.reverseSaleIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => undo.reverseSale(turn, ctx.actor, input))),
  correct: treasurer
    .input(shape.correctionIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => undo.correctEntry(turn, ctx.actor, input))),
})
