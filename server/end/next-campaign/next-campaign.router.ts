import { anyone, confirmed, router, staff } from '#runtime/call/base'
import { beginNextIn, earlierIn, workInIn } from './next-campaign.contract'
import { beginNext, listLines, readEarlier, readNext } from './next-campaign.service'
import { workIn } from './work-in.service'

export const nextCampaignRouter = router({
  /** Null before there is a first campaign. */
  view: staff('maker').query(({ ctx }) => readNext(ctx.sight())),
  begin: confirmed('maker')
    .input(beginNextIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => beginNext(turn, ctx.actor, input))),
  lines: staff('maker', 'treasurer', 'host', 'volunteer').query(({ ctx }) => listLines(ctx.sight())),
  workIn: staff('maker', 'treasurer')
    .input(workInIn)
    .mutation(({ ctx, input }) => workIn(ctx, input)),
  /** The page of an earlier campaign, by its name in addresses. */
  earlier: anyone.input(earlierIn).query(({ ctx }) => readEarlier(ctx.sight())),
})
