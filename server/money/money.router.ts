import { findCampaign } from '../campaign/campaign.service'
import { anyone, router, staff } from '../trpc/base'
import { correctionIn, moneyGiftIn, paymentIn, postageIn, remittanceIn } from './money.contract'
import * as money from './money.service'
import { proceeds } from './proceeds.service'

export const moneyRouter = router({
  /** Null before there is a campaign. */
  meter: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? proceeds(ctx.sight()) : null)),
  books: staff('treasurer', 'maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? money.readBooks(ctx.sight(), ctx.actor) : null)),
  pay: staff('treasurer')
    .input(paymentIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => money.recordPayment(turn, ctx.actor, input))),
  postage: staff('treasurer')
    .input(postageIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => money.setPostage(turn, ctx.actor, input))),
  remit: staff('treasurer')
    .input(remittanceIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => money.recordRemittance(turn, ctx.actor, input))),
  give: staff('treasurer')
    .input(moneyGiftIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => money.recordMoneyGift(turn, ctx.actor, input))),
  correct: staff('treasurer')
    .input(correctionIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => money.correctEntry(turn, ctx.actor, input))),
})
