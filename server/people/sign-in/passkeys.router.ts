import { STAFF_ROLES } from '#kernel/role'
import { type Context, confirmed, limited, router, signedIn } from '#runtime/call/base'
import type { FloodLimit } from '#runtime/call/flood'
import { noteEvent } from '#runtime/settings/events'
import { answerPasskeyIn, namePasskeyIn, registerPasskeyIn, removePasskeyIn, toRegisterPasskeyIn } from './passkeys.contract'
import { mustHaveRoomForPasskey, namePasskey, notePasskey, removePasskey } from './passkeys.service'

/** Nobody types a passkey, so far fewer of them are tried than codes; each asking leaves a row until it has ended. */
const PASSKEY_LIMIT: FloodLimit = {
  name: 'passkey',
  each: 30,
  all: 300,
  perMinutes: 5,
  words: 'Passkeys were tried too often. Use a code by email, or wait a while.',
}
const visitor = limited(PASSKEY_LIMIT)
const holder = confirmed(...STAFF_ROLES)

/** Gives the browser what it needs and answers with what the device is asked. */
function hand<Options>(ctx: Context, { options, cookies }: { options: Options; cookies: string[] }): Options {
  for (const cookie of cookies) ctx.setCookie(cookie)
  return options
}

/** What a browser does with these stands in WebAuthn: each pair asks a device and takes its answer. */
export const passkeysRouter = router({
  toSignIn: visitor.mutation(async ({ ctx }) => hand(ctx, await ctx.signIn.passkeys.toProve(''))),
  signIn: visitor.input(answerPasskeyIn).mutation(async ({ ctx, input }) => {
    const { address, log } = ctx
    const { role, cookies, personId } = await ctx.signIn.passkeys
      .signIn(ctx.cookies, input.response, ctx.device())
      .catch((reason: unknown) => {
        noteEvent(log, 'sign-in failed', { address, way: 'passkey' })
        throw reason
      })
    noteEvent(log, 'signed in', { address, way: 'passkey', by: personId })
    for (const cookie of cookies) ctx.setCookie(cookie)
    return { role }
  }),

  toRegister: holder.input(toRegisterPasskeyIn).mutation(async ({ ctx }) => {
    mustHaveRoomForPasskey(ctx.sight(), ctx.actor)
    return hand(ctx, await ctx.signIn.passkeys.toRegister(ctx.cookies, ctx.actor.email))
  }),
  register: holder.input(registerPasskeyIn).mutation(async ({ ctx, input }) => {
    mustHaveRoomForPasskey(ctx.sight(), ctx.actor)
    await ctx.signIn.passkeys.register(ctx.cookies, input.name, input.response)
    await ctx.command((turn) => notePasskey(turn, ctx.actor, input.name))
    return null
  }),
  rename: signedIn.input(namePasskeyIn).mutation(({ ctx, input }) => ctx.command((turn) => namePasskey(turn, ctx.actor, input))),
  remove: confirmed()
    .input(removePasskeyIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => removePasskey(turn, ctx.actor, input))),
})
