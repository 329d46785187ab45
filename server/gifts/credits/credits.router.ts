import { anyone, router } from '#runtime/call/base'
import { lotCreditsIn, unitCreditsIn } from './credits.contract'
import { readCredits, readLotCredits, readUnitCredits } from './credits.service'

export const creditsRouter = router({
  all: anyone.query(({ ctx }) => readCredits(ctx.sight())),
  forUnit: anyone.input(unitCreditsIn).query(({ ctx, input }) => readUnitCredits(ctx.sight(), input.tag)),
  forLot: anyone.input(lotCreditsIn).query(({ ctx, input }) => readLotCredits(ctx.sight(), input.number)),
})
