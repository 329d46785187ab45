import { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Context, router, signedIn, signedInLimited } from '#runtime/call/base'
import type { Session } from '#runtime/call/session'
import type { Actor } from '#runtime/queue/turn'
import { noteEvent } from '#runtime/settings/events'
import { ASK_CODE_LIMIT, askCode, ENTER_CODE_LIMIT, weighCode } from '../sign-in/codes.service'
import { answerPasskeyIn } from '../sign-in/passkeys.contract'
import { listPasskeys } from '../sign-in/passkeys.service'
import { noteConfirmed } from '../sign-in/sessions.service'
import { enterCodeIn } from './people.contract'
import { isDemo } from './people.service'

/**
 * Whoever is signed in proves again that it is them. What it proves is written down with the session that asks;
 * the session that a passkey opens by it is thrown away.
 */
export const confirmRouter = router({
  ways: signedIn.query(({ ctx }) => ({
    email: ctx.actor.email,
    hasPasskey: listPasskeys(ctx.sight(), ctx.actor).length > 0,
    publicUrl: ctx.sight().publicUrl,
  })),

  /** Sends a code to one's own address. A demo has nobody to read its mail, so it answers the code, for the page to show. */
  sendCode: signedInLimited(ASK_CODE_LIMIT).mutation(async ({ ctx }) => {
    const { email } = ctx.actor
    const code = await ctx.command((turn) => askCode(turn, email, ctx.browser()))
    return { email, demoCode: isDemo(ctx) ? code : null }
  }),
  byCode: signedInLimited(ENTER_CODE_LIMIT)
    .input(z.strictObject({ code: enterCodeIn.shape.code }))
    .mutation(async ({ ctx, input }) => {
      const { actor, session } = ctx
      const refusal = await ctx.command((turn) => {
        const refused = weighCode(turn, actor.email, input.code, ctx.browser())
        if (!refused) noteConfirmed(turn, session, Date.now())
        return refused
      })
      const outcome = { address: ctx.address, way: 'code', by: actor.personId }
      noteEvent(ctx.log, refusal ? 'confirmation failed' : 'confirmed', outcome)
      if (refusal) throw refusal
      return null
    }),

  toPasskey: signedIn.mutation(async ({ ctx }) => {
    const { options, cookies } = await ctx.signIn.passkeys.toProve(ctx.cookies)
    for (const cookie of cookies) ctx.setCookie(cookie)
    return options
  }),
  byPasskey: signedIn.input(answerPasskeyIn).mutation(async ({ ctx, input }) => {
    const outcome = { address: ctx.address, way: 'passkey', by: ctx.actor.personId }
    try {
      await note(ctx, await ctx.signIn.passkeys.signIn(ctx.cookies, input.response, ctx.device()))
    } catch (reason) {
      noteEvent(ctx.log, 'confirmation failed', outcome)
      throw reason
    }
    noteEvent(ctx.log, 'confirmed', outcome)
    return null
  }),
})

async function note(ctx: Context & { actor: Actor; session: Session }, proof: { personId: string; token: string }): Promise<null> {
  await ctx.signIn.discard(proof.token)
  if (proof.personId !== ctx.actor.personId) throw new Refusal('not-yours-to-do', 'That passkey is somebody else’s. Use your own.')
  await ctx.command((turn) => noteConfirmed(turn, ctx.session, Date.now()))
  return null
}
