import { anyone, router, staff } from '#runtime/call/base'
import { findPaddle } from '../people/people.service'
import { campaignIn, type Shell } from './campaign.contract'
import { findCampaign, saveCampaign } from './campaign.service'

export const campaignRouter = router({
  shell: anyone.query(({ ctx }): Shell => {
    const sight = ctx.sight()
    const found = findCampaign(sight)
    return {
      campaign: found && {
        name: found.name,
        causeName: found.causeName,
        currency: found.currency,
        zone: found.zone,
        streamOpensAt: found.streamOpensAt,
        streamClosesAt: found.streamClosesAt,
      },
      isDemo: ctx.isDemo && (found?.isDemo ?? false),
      person: ctx.actor && { name: ctx.actor.name, role: ctx.actor.role, paddle: findPaddle(sight, ctx.actor.personId)?.number ?? null },
    }
  }),

  /** What anybody may know of the campaign: cause, seller, rules, how to cancel. */
  open: anyone.query(({ ctx }) => {
    const found = findCampaign(ctx.sight())
    if (!found) return null
    const { id: _id, partsAddress: _partsAddress, isDemo: _isDemo, ...open } = found
    return open
  }),

  whole: staff('maker').query(({ ctx }) => findCampaign(ctx.sight())),

  save: staff('maker')
    .input(campaignIn)
    .mutation(({ ctx, input }) => {
      return ctx.command((turn) => saveCampaign(turn, input))
    }),
})
