import { isStaff } from '#kernel/role'
import { router, signedIn } from '#runtime/call/base'
import { listPasskeys } from './passkeys.service'
import { endSessionIn } from './sessions.contract'
import { endOtherSessions, endSession, listSessions } from './sessions.service'

export const sessionsRouter = router({
  /** Where one is signed in, and by what one could sign in. */
  mine: signedIn.query(({ ctx }) => ({
    email: ctx.actor.email,
    sessions: listSessions(ctx.sight(), ctx.actor, ctx.session, Date.now()),
    passkeys: listPasskeys(ctx.sight(), ctx.actor),
    mayAddPasskey: isStaff(ctx.actor.role),
    publicUrl: ctx.sight().publicUrl,
  })),
  end: signedIn.input(endSessionIn).mutation(({ ctx, input }) => ctx.command((turn) => endSession(turn, ctx.actor, input.id))),
  endOthers: signedIn.mutation(async ({ ctx }) => ({
    ended: await ctx.command((turn) => endOtherSessions(turn, ctx.actor, ctx.session)),
  })),
})
