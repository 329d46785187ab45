import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { readBooks } from './books.service'

export const booksRouter = router({
  /** Null before there is a campaign. */
  all: staff('treasurer', 'maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? readBooks(ctx.sight(), ctx.actor) : null)),
})
