import { findCampaign } from '#people/campaign/campaign.service'
import { anyone, router, signedIn, staff } from '#runtime/call/base'
import { lotValueIn, reliefLotIn, reliefSwitchIn } from './relief.contract'
import * as relief from './relief.service'

const books = staff('treasurer', 'maker')

export const reliefRouter = router({
  desk: books.query(({ ctx }) => (findCampaign(ctx.sight()) ? relief.reliefDesk(ctx.sight(), ctx.actor) : null)),
  switch: books.input(reliefSwitchIn).mutation(({ ctx, input }) => ctx.command((turn) => relief.switchRelief(turn, ctx.actor, input))),
  publishValue: books.input(lotValueIn).mutation(({ ctx, input }) => ctx.command((turn) => relief.publishValue(turn, ctx.actor, input))),
  /** What stands beside a lot for all to read. */
  value: anyone.input(reliefLotIn).query(({ ctx, input }) => relief.publishedValue(ctx.sight(), input.lot)),
  /** For the buyer of a lot, and for the books; nothing for anybody else. */
  ofLot: signedIn.input(reliefLotIn).query(({ ctx, input }) => relief.reliefOf(ctx.sight(), ctx.actor, input.lot)),
})
