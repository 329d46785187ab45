import { readDescription } from '#air/telling/telling.service'
import { findCampaign } from '#people/campaign/campaign.service'
import { anyone, router, staff } from '#runtime/call/base'
import { readChanges } from './changes.service'
import { audienceIn, describeIn, moveItemIn, planItemIn, removeItemIn } from './programme.contract'
import * as programme from './programme.service'

const planner = staff('maker', 'host')

export const programmeRouter = router({
  /** Null before there is a campaign. */
  open: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? programme.publicProgramme(ctx.sight()) : null)),
  /** What changed in it, when and why; null before there is a campaign. */
  changes: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? readChanges(ctx.sight()) : null)),
  describe: planner.input(describeIn).query(({ ctx, input }) => readDescription(ctx.sight(), input)),
  day: staff('maker', 'host', 'volunteer', 'treasurer').query(({ ctx }) =>
    findCampaign(ctx.sight()) ? programme.readDay(ctx.sight()) : null,
  ),
  plan: planner.input(planItemIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.planItem(turn, input))),
  move: planner.input(moveItemIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.moveItem(turn, input))),
  remove: planner.input(removeItemIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.removeItem(turn, input.itemId))),
  announce: planner.mutation(({ ctx }) => ctx.command((turn) => programme.announceProgramme(turn))),
  audience: planner.input(audienceIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.setAudience(turn, input))),
})
