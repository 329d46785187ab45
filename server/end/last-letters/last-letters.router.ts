import { findCampaign } from '#people/campaign/campaign.service'
import { confirmed, router, staff } from '#runtime/call/base'
import { sendIn } from './last-letters.contract'
import { readLastLetters, sendLastLetters } from './last-letters.service'

export const lastLettersRouter = router({
  /** Null before there is a campaign. */
  all: staff('maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? readLastLetters(ctx.sight()) : null)),
  send: confirmed('maker')
    .input(sendIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => sendLastLetters(turn, ctx.actor, input))),
})
