import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { dayIn, goingOnIn } from '../programme/programme.contract'
import { applyChangeIn, previewChangeIn } from './change.contract'
import { applyChange, previewChange, previewHold, previewResume } from './change.service'
import { addWish, adoptPlan, dropWish, readPlanning, startPlanning } from './planning.service'
import { readWarnings } from './warnings.service'
import { dropWishIn, startIn, wishIn } from './wish.contract'

const plans = staff('maker', 'host')

export const planningRouter = router({
  /** Null before there is a campaign. */
  present: staff('maker', 'host', 'volunteer', 'treasurer')
    .input(dayIn)
    .query(({ ctx, input }) => (findCampaign(ctx.sight()) ? readPlanning(ctx.sight(), ctx.planner, input.day) : null)),
  /** What the plan should not overlook. */
  warnings: staff('maker', 'host', 'volunteer', 'treasurer')
    .input(dayIn)
    .query(({ ctx, input }) => (findCampaign(ctx.sight()) ? readWarnings(ctx.sight(), input.day) : [])),
  wish: plans.input(wishIn).mutation(({ ctx, input }) => ctx.command((turn) => addWish(turn, input))),
  dropWish: plans.input(dropWishIn).mutation(({ ctx, input }) => ctx.command((turn) => dropWish(turn, input))),
  start: plans.input(startIn).mutation(({ ctx, input }) => startPlanning(ctx.sight(), ctx.planner, input)),
  stop: plans.mutation(({ ctx }) => ctx.planner.stop()),
  /** On the day: what a change would move, and then doing it. */
  previewChange: plans.input(previewChangeIn).query(({ ctx, input }) => previewChange(ctx.sight(), input.change, input.chosen)),
  /** On the day: what holding everything would stop. */
  previewHold: plans.query(({ ctx }) => previewHold(ctx.sight())),
  /** On the day: what going on after a hold would move. */
  previewResume: plans.input(goingOnIn).query(({ ctx, input }) => previewResume(ctx.sight(), input)),
  applyChange: plans.input(applyChangeIn).mutation(({ ctx, input }) => ctx.command((turn) => applyChange(turn, ctx.actor, input))),
  adopt: plans.mutation(({ ctx }) => ctx.command((turn) => adoptPlan(turn, ctx.planner))),
})
