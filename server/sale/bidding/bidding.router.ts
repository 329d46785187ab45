import { anyone, router, signedIn, staff } from '#runtime/call/base'
import { askRetractionIn, discloseIn } from '../bidders/disclosures.contract'
import { disclose, readDisclosures } from '../bidders/disclosures.service'
import { askRetraction } from '../bidders/retractions.service'
import { closingProcedures } from '../closings/closings.router'
import { findHoldOfAll } from '../closings/holds.service'
import { shedBids } from '../fairness/bid-floods.service'
import { readPatterns } from '../fairness/patterns.service'
import { noteOrigin } from '../fairness/traces.service'
import { historyForReaders } from '../history/history.service'
import { askReminder } from '../letters/reminders.service'
import { readBidders } from './bidders.service'
import { correctIn, lotNumberIn, placeBidIn, remindIn } from './bidding.contract'
import { correctDescription } from './corrections.service'
import { lotFrame, lotsFrame } from './frames.service'
import { readMyBids, readMySide } from './my-bids.service'
import { placeTypedBid } from './place-bid.service'
import { voidProcedures } from './voids.router'

/** Lots change under these; none of them answers with a row, which holds what only the house may know. */
export const biddingRouter = router({
  frame: anyone.input(lotNumberIn).query(({ ctx, input }) => lotFrame(ctx.sight(), input.lot)),
  frames: anyone.query(({ ctx }) => lotsFrame(ctx.sight())),
  history: anyone.input(lotNumberIn).query(({ ctx, input }) => historyForReaders(ctx.sight(), input.lot)),
  /** The house's public keys as a page carries them, so that it can check a history with the network off. */
  houseKeys: anyone.query(({ ctx }) =>
    ctx
      .sight()
      .keys.jwks()
      .keys.flatMap(({ x }) => x ?? []),
  ),
  holdOfAll: anyone.query(({ ctx }) => findHoldOfAll(ctx.sight())),

  mySide: signedIn.input(lotNumberIn).query(({ ctx, input }) => readMySide(ctx.sight(), ctx.actor, input.lot)),
  myBids: signedIn.query(({ ctx }) => readMyBids(ctx.sight(), ctx.actor)),
  place: signedIn.input(placeBidIn).mutation(({ ctx, input }) => {
    const { personId } = ctx.actor
    shedBids(ctx.floods, ctx.sight(), { personId, address: ctx.address, lot: input.lot })
    const origin = { address: ctx.address, browser: ctx.browser() }
    return ctx.command((turn) => {
      const answer = placeTypedBid(turn, ctx.actor, input)
      noteOrigin(turn, personId, input.lot, origin)
      return answer
    })
  }),
  remind: signedIn.input(remindIn).mutation(({ ctx, input }) => ctx.command((turn) => askReminder(turn, ctx.actor, input))),
  disclose: signedIn.input(discloseIn).mutation(({ ctx, input }) => ctx.command((turn) => disclose(turn, ctx.actor, input))),
  myDisclosures: signedIn.query(({ ctx }) => readDisclosures(ctx.sight(), ctx.actor.personId)),
  askRetraction: signedIn.input(askRetractionIn).mutation(({ ctx, input }) => ctx.command((turn) => askRetraction(turn, ctx.actor, input))),

  patterns: staff('maker').query(({ ctx }) => readPatterns(ctx.sight())),
  bidders: staff('maker', 'host')
    .input(lotNumberIn)
    .query(({ ctx, input }) => readBidders(ctx.sight(), input.lot)),
  correct: staff('maker')
    .input(correctIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => correctDescription(turn, ctx.actor, input))),
  ...closingProcedures,
  ...voidProcedures,
})
