import { findCampaign } from '#people/campaign/campaign.service'
import { mustBeConfirmed, router, signedIn, staff } from '#runtime/call/base'
import { sayAddress } from './address.service'
import * as bands from './bands.service'
import * as dispatch from './dispatch.service'
import * as packing from './packing.service'
import { readPostageAccount, recordParcelCost } from './postage-account.service'
import * as problems from './problems.service'
import * as shape from './sending.contract'
import { listSending, readSending } from './to-send.service'
import { joinParcel, setParcelPostage, takeApart, wishParcels } from './together.service'

/** Who sends: they alone see where a parcel goes. */
const sender = staff('maker', 'volunteer')
const setter = staff('maker', 'treasurer')
/** Who answers a buyer; of a parcel they see all but where it goes. */
const answerer = staff('maker', 'volunteer', 'treasurer')

export const sendingRouter = router({
  table: answerer.query(({ ctx }) => bands.readPostageTable(ctx.sight())),
  saveTerms: setter.input(shape.termsIn).mutation(({ ctx, input }) => ctx.command((turn) => bands.saveTerms(turn, ctx.actor, input))),
  saveBands: setter.input(shape.bandsIn).mutation(({ ctx, input }) => ctx.command((turn) => bands.saveBands(turn, ctx.actor, input))),
  importBands: setter
    .input(shape.bandsFileIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => bands.importBands(turn, ctx.actor, input))),
  exportBands: setter.query(({ ctx }) => bands.exportBands(ctx.sight())),

  list: answerer.query(({ ctx }) => listSending(ctx.sight())),
  page: answerer.input(shape.lotIn).query(({ ctx, input }) => readSending(ctx.sight(), input.lot, ctx.actor)),
  join: setter.input(shape.joinIn).mutation(({ ctx, input }) => ctx.command((turn) => joinParcel(turn, ctx.actor, input))),
  takeApart: setter.input(shape.lotIn).mutation(({ ctx, input }) => ctx.command((turn) => takeApart(turn, input))),
  parcelPostage: setter
    .input(shape.parcelPostageIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => setParcelPostage(turn, ctx.actor, input))),
  cost: setter.input(shape.parcelCostIn).mutation(({ ctx, input }) => ctx.command((turn) => recordParcelCost(turn, ctx.actor, input))),
  /** Null before there is a campaign. */
  postages: setter.query(({ ctx }) => (findCampaign(ctx.sight()) ? readPostageAccount(ctx.sight()) : null)),
  tick: sender.input(shape.tickIn).mutation(({ ctx, input }) => ctx.command((turn) => packing.tickItem(turn, ctx.actor, input))),
  photograph: sender
    .input(shape.packPhotographIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => packing.addPackingPhotograph(turn, ctx.actor, input))),
  parcel: sender.input(shape.parcelIn).mutation(({ ctx, input }) => ctx.command((turn) => dispatch.saveParcel(turn, input))),
  dispatch: sender.input(shape.dispatchIn).mutation(({ ctx, input }) => ctx.command((turn) => dispatch.dispatch(turn, ctx.actor, input))),
  delivered: sender
    .input(shape.lotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => dispatch.noteArrival(turn, ctx.actor, input, 'staff'))),
  answer: answerer.input(shape.noteIn).mutation(({ ctx, input }) => ctx.command((turn) => problems.answerProblem(turn, ctx.actor, input))),
  endProblem: answerer.input(shape.endProblemIn).mutation(({ ctx, input }) => {
    if (input.as === 'refunded') mustBeConfirmed(ctx)
    return ctx.command((turn) => problems.endProblem(turn, ctx.actor, input))
  }),

  mine: signedIn.input(shape.lotIn).query(({ ctx, input }) => dispatch.readMyParcel(ctx.sight(), ctx.actor, input.lot)),
  sayAddress: signedIn.input(shape.addressIn).mutation(({ ctx, input }) => ctx.command((turn) => sayAddress(turn, ctx.actor, input))),
  wish: signedIn.input(shape.wishIn).mutation(({ ctx, input }) => ctx.command((turn) => wishParcels(turn, ctx.actor, input))),
  arrived: signedIn
    .input(shape.lotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => dispatch.noteArrival(turn, ctx.actor, input, 'buyer'))),
  report: signedIn
    .input(shape.reportIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => problems.reportProblem(turn, ctx.actor, input))),
  say: signedIn.input(shape.noteIn).mutation(({ ctx, input }) => ctx.command((turn) => problems.sayMore(turn, ctx.actor, input))),
})
