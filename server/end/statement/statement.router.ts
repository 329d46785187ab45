import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { readAccount } from './account.service'

export const statementRouter = router({
  /** Null before there is a campaign. */
  account: staff('maker', 'treasurer').query(({ ctx }) => (findCampaign(ctx.sight()) ? readAccount(ctx.sight()) : null)),
})
