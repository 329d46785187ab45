import { Refusal } from '#kernel/refusal'
import { qrPath } from '#paper/qr'
import { findCampaign } from '#people/campaign/campaign.service'
import { confirmed, router, signedIn, staff } from '#runtime/call/base'
import { readBasket } from './basket.service'
import * as shape from './invoices.contract'
import * as invoices from './invoices.service'
import { readMySales } from './my-sales.service'
import * as reminders from './reminders.service'
import * as underbidder from './underbidder.service'

const purse = staff('treasurer', 'maker')

export const invoicesRouter = router({
  /** For its buyer, and for those who keep the books. The code is drawn here: pages hold no encoder. */
  page: signedIn.input(shape.lotIn).query(({ ctx, input }) => {
    const view = invoices.findInvoiceFor(ctx.sight(), ctx.actor, input.lot)
    if (!view) throw new Refusal('not-found', `You have no invoice for lot ${input.lot}.`)
    return { ...view, code: view.payment === null ? null : qrPath(view.payment) }
  }),
  terms: purse.query(({ ctx }) => invoices.paymentTerms(ctx.sight())),
  saveTerms: confirmed('treasurer', 'maker')
    .input(shape.paymentTermsIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => invoices.savePaymentTerms(turn, ctx.actor, input))),

  due: purse.query(({ ctx }) => reminders.listDue(ctx.sight())),
  propose: purse.input(shape.lotIn).query(({ ctx, input }) => reminders.proposeReminder(ctx.sight(), input.lot)),
  remind: purse.input(shape.remindIn).mutation(({ ctx, input }) => ctx.command((turn) => reminders.sendReminder(turn, ctx.actor, input))),

  underbidder: purse.input(shape.lotIn).query(({ ctx, input }) => underbidder.readUnderbidder(ctx.sight(), input.lot)),
  offer: purse
    .input(shape.offerIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => underbidder.offerToUnderbidder(turn, ctx.actor, input))),
  takeBackOffer: purse
    .input(shape.takeBackOfferIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => underbidder.takeBackOffer(turn, input))),
  basket: signedIn.query(({ ctx }) => readBasket(ctx.sight(), ctx.actor)),
  mySales: signedIn.query(({ ctx }) => (findCampaign(ctx.sight()) ? readMySales(ctx.sight(), ctx.actor) : [])),
  myOffers: signedIn.query(({ ctx }) => underbidder.listMyOffers(ctx.sight(), ctx.actor)),
  answerOffer: signedIn
    .input(shape.answerOfferIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => underbidder.answerOffer(turn, ctx.actor, input))),
})
