import { anyone, router, signedIn, staff } from '#runtime/call/base'
import * as shape from './offer-price.contract'
import { listPriceDesks, offerAtPrice, takePriceBack } from './offer-price.service'
import { readMyPrice, readPrice, takeAtPrice } from './take-at-price.service'

const setters = staff('maker', 'treasurer')

export const fixedPriceRouter = router({
  of: anyone.input(shape.priceOfIn).query(({ ctx, input }) => readPrice(ctx.sight(), input.lot)),
  mine: signedIn.input(shape.priceOfIn).query(({ ctx, input }) => readMyPrice(ctx.sight(), ctx.actor, input.lot)),
  take: signedIn.input(shape.takeAtPriceIn).mutation(({ ctx, input }) => ctx.command((turn) => takeAtPrice(turn, ctx.actor, input))),
  desks: setters.query(({ ctx }) => listPriceDesks(ctx.sight())),
  offer: setters.input(shape.setPriceIn).mutation(({ ctx, input }) => ctx.command((turn) => offerAtPrice(turn, ctx.actor, input))),
  takeBack: setters.input(shape.takePriceBackIn).mutation(({ ctx, input }) => ctx.command((turn) => takePriceBack(turn, ctx.actor, input))),
})
