import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { readForecast } from './forecast.service'

export const forecastRouter = router({
  /** Null before there is a campaign. */
  now: staff('treasurer', 'maker', 'host').query(({ ctx }) => (findCampaign(ctx.sight()) ? readForecast(ctx.sight()) : null)),
})
