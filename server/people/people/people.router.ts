import { Refusal } from '#kernel/refusal'
import type { Context } from '#runtime/call/base'
import { anyone, confirmed, limited, router, signedIn, staff } from '#runtime/call/base'
import { noteEvent } from '#runtime/settings/events'
import { ASK_CODE_LIMIT, askCode, ENTER_CODE_LIMIT, weighCode } from '../sign-in/codes.service'
import { askCodeIn, enterCodeIn, firstMakerIn, raiseCeilingIn, setRoleIn, setZoneIn, stepIntoIn, takePaddleIn } from './people.contract'
import * as people from './people.service'
import { readShell } from './shell.service'

const enter = async (ctx: Context, personId: string, way: string) => {
  for (const cookie of await ctx.signIn.openSession(personId, ctx.device())) ctx.setCookie(cookie)
  noteEvent(ctx.log, 'signed in', { address: ctx.address, way, by: personId })
}

export const peopleRouter = router({
  shell: anyone.query(({ ctx }) => readShell(ctx.sight(), ctx)),

  /** A demo has nobody to read its mail, so it answers the code, for the page to show. */
  askCode: limited(ASK_CODE_LIMIT)
    .input(askCodeIn)
    .mutation(async ({ ctx, input: { email } }) => {
      const code = await ctx.command((turn) => askCode(turn, email, ctx.browser()))
      return { email, demoCode: people.isDemo(ctx) ? code : null }
    }),

  enterCode: limited(ENTER_CODE_LIMIT)
    .input(enterCodeIn)
    .mutation(async ({ ctx, input: { email, code } }) => {
      const weighed = await ctx.command((turn) => weighCode(turn, email, code, ctx.browser()) ?? people.personOf(turn, email))
      if (weighed instanceof Refusal) {
        noteEvent(ctx.log, 'sign-in failed', { address: ctx.address, way: 'code', code: weighed.code })
        throw weighed
      }
      await enter(ctx, weighed.personId, 'code')
      return { role: weighed.role, hasPaddle: people.findBiddingPaddle(ctx.sight(), weighed.personId) !== null }
    }),

  signOut: anyone.mutation(async ({ ctx }) => {
    for (const cookie of await ctx.signIn.close(ctx.cookies)) ctx.setCookie(cookie)
    if (ctx.actor) noteEvent(ctx.log, 'signed out', { address: ctx.address, by: ctx.actor.personId })
    return null
  }),

  firstMaker: anyone.input(firstMakerIn).mutation(async ({ ctx, input }) => {
    const { personId } = await ctx.command((turn) => people.makeFirstMaker(turn, input))
    await enter(ctx, personId, 'first link')
    return null
  }),

  myPaddle: signedIn.query(({ ctx }) => ({
    name: ctx.actor.name,
    email: ctx.actor.email,
    role: ctx.actor.role,
    zone: people.findPerson(ctx.sight(), ctx.actor.personId)?.zone ?? null,
    paddle: people.findBiddingPaddle(ctx.sight(), ctx.actor.personId),
  })),

  takePaddle: signedIn.input(takePaddleIn).mutation(({ ctx, input }) => ctx.command((turn) => people.takePaddle(turn, ctx.actor, input))),

  setZone: signedIn.input(setZoneIn).mutation(({ ctx, input }) => ctx.command((turn) => people.setZone(turn, ctx.actor, input))),

  paddles: staff('maker', 'host', 'treasurer').query(({ ctx }) => people.listPaddles(ctx.sight())),

  raiseCeiling: confirmed('maker', 'host')
    .input(raiseCeilingIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => people.raiseCeiling(turn, ctx.actor, input.paddle))),

  staff: staff('maker').query(({ ctx }) => people.listStaff(ctx.sight())),

  setRole: confirmed('maker')
    .input(setRoleIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => people.setRole(turn, input, ctx.actor))),

  demoPeople: anyone.query(({ ctx }) => (people.isDemo(ctx) ? people.demoPeople(ctx.sight()) : null)),

  stepInto: anyone.input(stepIntoIn).mutation(async ({ ctx, input }) => {
    if (!people.isDemo(ctx)) throw new Refusal('not-found', 'There is nothing here.')
    const one = people.demoPeople(ctx.sight()).find(({ personId }) => personId === input.personId)
    if (!one) throw new Refusal('not-found', 'There is no such role in this demo.')
    await enter(ctx, one.personId, 'step into the demo')
    return { role: one.role }
  }),
})
