import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { sellAnewIn } from './checklist.contract'
import { readChecklist } from './checklist.service'
import { whatWaits } from './waiting.service'
import { listLeft, sellAnew } from './what-is-left.service'

export const closeOutRouter = router({
  /** How much waits in each part of the work that is theirs. */
  waiting: staff('maker', 'volunteer', 'treasurer', 'host').query(({ ctx }) => whatWaits(ctx.sight(), ctx.actor)),
  /** Null before there is a campaign. */
  checklist: staff('maker', 'treasurer').query(({ ctx }) => (findCampaign(ctx.sight()) ? readChecklist(ctx.sight(), ctx.actor) : null)),
  /** Machines that nobody has once their lots have ended. */
  left: staff('maker', 'treasurer').query(({ ctx }) => (findCampaign(ctx.sight()) ? listLeft(ctx.sight()) : [])),
  sellAnew: staff('maker')
    .input(sellAnewIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => sellAnew(turn, ctx.actor, input))),
})
