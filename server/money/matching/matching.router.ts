import { router, staff } from '#runtime/call/base'
import { endPromiseIn, matchReceivedIn, promiseIn } from './matching.contract'
import { endPromise, promiseMatch, receiveMatch } from './matching.service'

const treasurer = staff('treasurer')

export const matchingRouter = router({
  promise: treasurer.input(promiseIn).mutation(({ ctx, input }) => ctx.command((turn) => promiseMatch(turn, ctx.actor, input))),
  end: treasurer.input(endPromiseIn).mutation(({ ctx, input }) => ctx.command((turn) => endPromise(turn, ctx.actor, input))),
  receive: treasurer.input(matchReceivedIn).mutation(({ ctx, input }) => ctx.command((turn) => receiveMatch(turn, ctx.actor, input))),
})
