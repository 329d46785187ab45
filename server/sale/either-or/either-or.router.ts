import { router, signedIn } from '#runtime/call/base'
import { shedBids } from '../fairness/bid-floods.service'
import { noteOrigin } from '../fairness/traces.service'
import { changeLinkIn, dropEitherOrIn, makeEitherOrIn } from './either-or.contract'
import { changeLink, dropEitherOr, listEitherOrLots, listMyEitherOrs, makeEitherOr } from './my-either-ors.service'

/** What a bidder does with their own either-ors; nobody else is told of them. */
export const eitherOrRouter = router({
  lots: signedIn.query(({ ctx }) => listEitherOrLots(ctx.sight(), ctx.actor)),
  mine: signedIn.query(({ ctx }) => listMyEitherOrs(ctx.sight(), ctx.actor)),
  make: signedIn.input(makeEitherOrIn).mutation(({ ctx, input }) => {
    const { personId } = ctx.actor
    shedBids(ctx.floods, ctx.sight(), { personId, address: ctx.address, lot: 0 })
    const origin = { address: ctx.address, browser: ctx.browser() }
    return ctx.command((turn) => {
      const answer = makeEitherOr(turn, ctx.actor, input)
      for (const { lot } of input.links) noteOrigin(turn, personId, lot, origin)
      return answer
    })
  }),
  changeLink: signedIn.input(changeLinkIn).mutation(({ ctx, input }) => {
    shedBids(ctx.floods, ctx.sight(), { personId: ctx.actor.personId, address: ctx.address, lot: input.lot })
    return ctx.command((turn) => changeLink(turn, ctx.actor, input))
  }),
  drop: signedIn.input(dropEitherOrIn).mutation(({ ctx, input }) => ctx.command((turn) => dropEitherOr(turn, ctx.actor, input))),
})
