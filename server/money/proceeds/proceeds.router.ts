import { findCampaign } from '#people/campaign/campaign.service'
import { anyone, router } from '#runtime/call/base'
import { proceeds } from './proceeds.service'

export const proceedsRouter = router({
  /** Null before there is a campaign. */
  meter: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? proceeds(ctx.sight()) : null)),
})
