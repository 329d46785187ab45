import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { readChecklist } from './checklist.service'
import { whatWaits } from './waiting.service'

export const closeOutRouter = router({
  /** How much waits in each part of the work that is theirs. */
  waiting: staff('maker', 'volunteer', 'treasurer', 'host').query(({ ctx }) => whatWaits(ctx.sight(), ctx.actor)),
  /** Null before there is a campaign. */
  checklist: staff('maker', 'treasurer').query(({ ctx }) => (findCampaign(ctx.sight()) ? readChecklist(ctx.sight(), ctx.actor) : null)),
})
