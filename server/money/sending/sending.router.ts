import { mustBeConfirmed, router, signedIn, staff } from '#runtime/call/base'
import { sayAddress } from './address.service'
import * as bands from './bands.service'
import * as dispatch from './dispatch.service'
import * as packing from './packing.service'
import * as problems from './problems.service'
import * as shape from './sending.contract'

/** Who sends: they alone see where a parcel goes. */
const sender = staff('maker', 'volunteer')
const setter = staff('maker', 'treasurer')

export const sendingRouter = router({
  table: staff('maker', 'volunteer', 'treasurer').query(({ ctx }) => bands.readPostageTable(ctx.sight())),
  saveTerms: setter.input(shape.termsIn).mutation(({ ctx, input }) => ctx.command((turn) => bands.saveTerms(turn, ctx.actor, input))),
  saveBands: setter.input(shape.bandsIn).mutation(({ ctx, input }) => ctx.command((turn) => bands.saveBands(turn, ctx.actor, input))),
  importBands: setter
    .input(shape.bandsFileIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => bands.importBands(turn, ctx.actor, input))),
  exportBands: setter.query(({ ctx }) => bands.exportBands(ctx.sight())),

  list: staff('maker', 'volunteer', 'treasurer').query(({ ctx }) => dispatch.listSending(ctx.sight())),
  page: sender.input(shape.lotIn).query(({ ctx, input }) => dispatch.readSending(ctx.sight(), input.lot)),
  tick: sender.input(shape.tickIn).mutation(({ ctx, input }) => ctx.command((turn) => packing.tickItem(turn, ctx.actor, input))),
  photograph: sender
    .input(shape.packPhotographIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => packing.addPackingPhotograph(turn, ctx.actor, input))),
  parcel: sender.input(shape.parcelIn).mutation(({ ctx, input }) => ctx.command((turn) => dispatch.saveParcel(turn, input))),
  dispatch: sender.input(shape.dispatchIn).mutation(({ ctx, input }) => ctx.command((turn) => dispatch.dispatch(turn, ctx.actor, input))),
  delivered: sender
    .input(shape.lotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => dispatch.noteArrival(turn, ctx.actor, input, 'staff'))),
  answer: staff('maker', 'volunteer', 'treasurer')
    .input(shape.noteIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => problems.answerProblem(turn, ctx.actor, input))),
  endProblem: staff('maker', 'volunteer', 'treasurer')
    .input(shape.endProblemIn)
    .mutation(({ ctx, input }) => {
      if (input.as === 'refunded') mustBeConfirmed(ctx)
      return ctx.command((turn) => problems.endProblem(turn, ctx.actor, input))
    }),

  mine: signedIn.input(shape.lotIn).query(({ ctx, input }) => dispatch.readMyParcel(ctx.sight(), ctx.actor, input.lot)),
  sayAddress: signedIn.input(shape.addressIn).mutation(({ ctx, input }) => ctx.command((turn) => sayAddress(turn, ctx.actor, input))),
  arrived: signedIn
    .input(shape.lotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => dispatch.noteArrival(turn, ctx.actor, input, 'buyer'))),
  report: signedIn
    .input(shape.reportIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => problems.reportProblem(turn, ctx.actor, input))),
  say: signedIn.input(shape.noteIn).mutation(({ ctx, input }) => ctx.command((turn) => problems.sayMore(turn, ctx.actor, input))),
})
