import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { readChecklist } from './checklist.service'

export const closeOutRouter = router({
  /** Null before there is a campaign. */
  checklist: staff('maker', 'treasurer').query(({ ctx }) => (findCampaign(ctx.sight()) ? readChecklist(ctx.sight(), ctx.actor) : null)),
})
