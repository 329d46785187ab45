import { anyone, confirmed, router, staff } from '#runtime/call/base'
import { campaignIn } from './campaign.contract'
import { findCampaign, saveCampaign } from './campaign.service'

export const campaignRouter = router({
  /** What anybody may know of the campaign: cause, seller, rules, how to cancel. */
  open: anyone.query(({ ctx }) => {
    const found = findCampaign(ctx.sight())
    if (!found) return null
    const { id: _id, partsAddress: _partsAddress, isDemo: _isDemo, ...open } = found
    return open
  }),

  whole: staff('maker').query(({ ctx }) => findCampaign(ctx.sight())),

  save: confirmed('maker')
    .input(campaignIn)
    .mutation(({ ctx, input }) => {
      return ctx.command((turn) => saveCampaign(turn, input, { by: ctx.actor }))
    }),
})
