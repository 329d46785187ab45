import { findCampaign } from '#people/campaign/campaign.service'
import { anyone, router, staff } from '#runtime/call/base'
import { readDay } from './day.service'
import { readPictures } from './pictures.service'

export const picturesRouter = router({
  /** What was counted through the day; null before there is a campaign. */
  day: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? readDay(ctx.sight()) : null)),
  /** Where the money came from, and what each batch cost; null before there is a campaign. */
  sources: staff('treasurer', 'maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? readPictures(ctx.sight()) : null)),
})
