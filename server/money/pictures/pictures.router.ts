import { findCampaign } from '#people/campaign/campaign.service'
import { anyone, router, staff } from '#runtime/call/base'
import { readDay, readDaysBefore } from './day.service'
import { readPictures } from './pictures.service'

export const picturesRouter = router({
  /** What was counted through the day at hand; null before there is a campaign. */
  day: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? readDay(ctx.sight()) : null)),
  /** The same for the staff, of the campaign in which they are at work. */
  dayAtWork: staff('treasurer', 'maker', 'host').query(({ ctx }) => (findCampaign(ctx.sight()) ? readDay(ctx.sight()) : null)),
  /** The same for the stream days that were before it, the latest first. */
  daysBefore: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? readDaysBefore(ctx.sight()) : [])),
  /** Where the money came from, and what each batch cost; null before there is a campaign. */
  sources: staff('treasurer', 'maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? readPictures(ctx.sight()) : null)),
})
