import { anyone, router, signedIn, staff } from '#runtime/call/base'
import { askRetraction, disclose, readDisclosures } from '../bidders/disclosures.service'
import * as closings from '../closings/closings.service'
import { enterElsewhereResult, openLot } from '../closings/opening.service'
import { changeLinkIn, dropChainIn, makeChainIn } from '../either-or/either-or.contract'
import { changeChainLink, dropChain, listChainable, listMyChains, makeChain } from '../either-or/my-either-ors.service'
import { askRetractionIn, discloseIn } from '../fairness/fairness.contract'
import { readPatterns } from '../fairness/patterns.service'
import { shedBids } from '../fairness/rate.service'
import { noteOrigin } from '../fairness/traces.service'
import { readHistory } from '../history/history.service'
import { askReminder } from '../letters/reminders.service'
import { lotAnswer } from '../lots/lot-answer.rules'
import { readBidders } from './bidders.service'
import {
  correctIn,
  elsewhereResultIn,
  extendIn,
  lotNumberIn,
  placeBidIn,
  remindIn,
  voidIn,
  withdrawIn,
} from './bidding.contract'
import { lotFrame, lotsFrame } from './frames.service'
import { readMyBids, readMySide } from './my-bids.service'
import { placeTypedBid } from './place-bid.service'
import { agreeVoid, askVoid, correctDescription, dropVoid } from './voids.service'

/** Lots change under these; none of them answers with a row, which holds what only the house may know. */
export const biddingRouter = router({
  frame: anyone.input(lotNumberIn).query(({ ctx, input }) => lotFrame(ctx.sight(), input.lot)),
  frames: anyone.query(({ ctx }) => lotsFrame(ctx.sight())),
  history: anyone.input(lotNumberIn).query(({ ctx, input }) => readHistory(ctx.sight(), input.lot)),
  /** The house's public keys as a page carries them, so that it can check a history with the network off. */
  houseKeys: anyone.query(({ ctx }) =>
    ctx
      .sight()
      .keys.jwks()
      .keys.flatMap(({ x }) => x ?? []),
  ),
  standingHold: anyone.query(({ ctx }) => closings.findStandingHold(ctx.sight())),

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

  chainable: signedIn.query(({ ctx }) => listChainable(ctx.sight(), ctx.actor)),
  myChains: signedIn.query(({ ctx }) => listMyChains(ctx.sight(), ctx.actor)),
  makeChain: signedIn.input(makeChainIn).mutation(({ ctx, input }) => {
    const { personId } = ctx.actor
    shedBids(ctx.floods, ctx.sight(), { personId, address: ctx.address, lot: 0 })
    const origin = { address: ctx.address, browser: ctx.browser() }
    return ctx.command((turn) => {
      const answer = makeChain(turn, ctx.actor, input)
      for (const { lot } of input.links) noteOrigin(turn, personId, lot, origin)
      return answer
    })
  }),
  changeChainLink: signedIn.input(changeLinkIn).mutation(({ ctx, input }) => {
    shedBids(ctx.floods, ctx.sight(), { personId: ctx.actor.personId, address: ctx.address, lot: input.lot })
    return ctx.command((turn) => changeChainLink(turn, ctx.actor, input))
  }),
  dropChain: signedIn.input(dropChainIn).mutation(({ ctx, input }) => ctx.command((turn) => dropChain(turn, ctx.actor, input))),

  patterns: staff('maker').query(({ ctx }) => readPatterns(ctx.sight())),

  bidders: staff('maker', 'host')
    .input(lotNumberIn)
    .query(({ ctx, input }) => readBidders(ctx.sight(), input.lot)),
  open: staff('maker')
    .input(lotNumberIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(openLot(turn, ctx.actor, input)))),
  extend: staff('maker', 'host')
    .input(extendIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(closings.extendClosing(turn, ctx.actor, input)))),
  withdraw: staff('maker')
    .input(withdrawIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(closings.withdrawLot(turn, ctx.actor, input)))),
  askVoid: staff('maker', 'host')
    .input(voidIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => askVoid(turn, ctx.actor, input))),
  agreeVoid: staff('maker', 'host', 'treasurer')
    .input(voidIn.omit({ reason: true }))
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(agreeVoid(turn, ctx.actor, input)))),
  dropVoid: staff('maker', 'host', 'treasurer')
    .input(voidIn.omit({ reason: true }))
    .mutation(({ ctx, input }) => ctx.command((turn) => dropVoid(turn, input))),
  correct: staff('maker')
    .input(correctIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => correctDescription(turn, ctx.actor, input))),
  elsewhereResult: staff('maker', 'treasurer')
    .input(elsewhereResultIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(enterElsewhereResult(turn, ctx.actor, input)))),
})
