import { findCampaign } from '#people/campaign/campaign.service'
import { anyone, confirmed, router, staff } from '#runtime/call/base'
import { readBooks } from './books.service'
import { readDay, readForecast } from './forecast.service'
import * as shape from './money.contract'
import { readPictures } from './pictures.service'
import { proceeds } from './proceeds.service'
import * as receive from './receive.service'
import * as spend from './spend.service'
import * as undo from './undo.service'

const treasurer = staff('treasurer')
/** Money that leaves, or that is owed back from now on. */
const sureTreasurer = confirmed('treasurer')

export const moneyRouter = router({
  /** Null before there is a campaign. */
  meter: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? proceeds(ctx.sight()) : null)),
  /** What was counted through the day; null before there is a campaign. */
  day: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? readDay(ctx.sight()) : null)),
  forecast: staff('treasurer', 'maker', 'host').query(({ ctx }) => (findCampaign(ctx.sight()) ? readForecast(ctx.sight()) : null)),
  books: staff('treasurer', 'maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? readBooks(ctx.sight(), ctx.actor) : null)),
  pictures: staff('treasurer', 'maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? readPictures(ctx.sight()) : null)),
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
  promiseMatch: treasurer
    .input(shape.promiseIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => spend.promiseMatch(turn, ctx.actor, input))),
  endPromise: treasurer
    .input(shape.endPromiseIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => spend.endPromise(turn, ctx.actor, input))),
  receiveMatch: treasurer
    .input(shape.matchReceivedIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => spend.receiveMatch(turn, ctx.actor, input))),
  postage: treasurer.input(shape.postageIn).mutation(({ ctx, input }) => ctx.command((turn) => undo.setPostage(turn, ctx.actor, input))),
  reduce: sureTreasurer.input(shape.reduceIn).mutation(({ ctx, input }) => ctx.command((turn) => undo.reducePrice(turn, ctx.actor, input))),
  fallThrough: sureTreasurer
    .input(shape.reverseSaleIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => undo.reverseSale(turn, ctx.actor, input))),
  correct: treasurer
    .input(shape.correctionIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => undo.correctEntry(turn, ctx.actor, input))),
})
