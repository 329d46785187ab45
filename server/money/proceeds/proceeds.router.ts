import { findCampaign } from '#people/campaign/campaign.service'
import { anyone, router, staff } from '#runtime/call/base'
import { partsOfRaised, proceeds } from './proceeds.service'

export const proceedsRouter = router({
  /** Null before there is a campaign. */
  meter: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? proceeds(ctx.sight()) : null)),
  /** The same for the staff, of the campaign in which they are at work. */
  meterAtWork: staff('treasurer', 'maker', 'host').query(({ ctx }) => (findCampaign(ctx.sight()) ? proceeds(ctx.sight()) : null)),
  /** What the meter is made of, for everybody: who has paid yet is between a buyer and the house. */
  parts: anyone.query(({ ctx }) =>
    findCampaign(ctx.sight())
      ? partsOfRaised(ctx.sight()).map(({ of, lot, words, bidMinor, wonMinor, paidMinor, remittedMinor }) => ({
          of,
          lot,
          words,
          bidMinor,
          raisedMinor: wonMinor + paidMinor + remittedMinor,
        }))
      : [],
  ),
  /** The same with its four states, for those who keep the books. */
  states: staff('treasurer', 'maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? partsOfRaised(ctx.sight()) : [])),
})
