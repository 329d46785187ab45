import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { lessonsIn } from './lessons.contract'
import { readLessons } from './lessons.service'

export const lessonsRouter = router({
  /** Null before there is a campaign. */
  read: staff('maker', 'treasurer')
    .input(lessonsIn)
    .query(({ ctx, input }) => (findCampaign(ctx.sight()) ? readLessons(ctx.sight(), ctx.actor, input.of) : null)),
})
