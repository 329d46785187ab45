import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { sendIn } from './last-letters.contract'
import { readLastLetters, sendLastLetters } from './last-letters.service'

const maker = staff('maker')

export const lastLettersRouter = router({
  /** Null before there is a campaign. */
  all: maker.query(({ ctx }) => (findCampaign(ctx.sight()) ? readLastLetters(ctx.sight()) : null)),
  send: maker.input(sendIn).mutation(({ ctx, input }) => ctx.command((turn) => sendLastLetters(turn, ctx.actor, input))),
})
