import { Refusal } from '#kernel/refusal'
import type { Context } from '#runtime/call/base'
import { anyone, confirmed, router, signedIn, staff } from '#runtime/call/base'
import { askCodeIn, enterCodeIn, firstMakerIn, raiseCeilingIn, setRoleIn, stepIntoIn, takePaddleIn } from './people.contract'
import * as people from './people.service'
import { readShell } from './shell.service'

const enter = async (ctx: Context, personId: string) => {
  for (const cookie of await ctx.signIn.openSession(personId, ctx.device())) ctx.setCookie(cookie)
}

export const peopleRouter = router({
  shell: anyone.query(({ ctx }) => readShell(ctx.sight(), ctx.actor, ctx.isDemo)),

  askCode: anyone.input(askCodeIn).mutation(async ({ ctx, input }) => {
    await ctx.command((turn) => people.noteCodeRequest(turn, input.email, ctx.browser()))
    await ctx.signIn.sendCode(input.email)
    return { email: input.email }
  }),

  enterCode: anyone.input(enterCodeIn).mutation(async ({ ctx, input }) => {
    people.checkCodeBrowser(ctx.sight(), input.email, ctx.browser())
    const { personId, cookies } = await ctx.signIn.takeCode(input.email, input.code, ctx.device())
    for (const cookie of cookies) ctx.setCookie(cookie)
    const person = people.findPerson(ctx.sight(), personId)
    return { role: person?.role ?? 'bidder', hasPaddle: people.findPaddle(ctx.sight(), personId) !== null }
  }),

  signOut: anyone.mutation(async ({ ctx }) => {
    for (const cookie of await ctx.signIn.close(ctx.cookies)) ctx.setCookie(cookie)
    return null
  }),

  firstMaker: anyone.input(firstMakerIn).mutation(async ({ ctx, input }) => {
    const { personId } = await ctx.command((turn) => people.makeFirstMaker(turn, input))
    await enter(ctx, personId)
    return null
  }),

  myPaddle: signedIn.query(({ ctx }) => ({
    name: ctx.actor.name,
    email: ctx.actor.email,
    role: ctx.actor.role,
    paddle: people.findPaddle(ctx.sight(), ctx.actor.personId),
  })),

  takePaddle: signedIn.input(takePaddleIn).mutation(({ ctx, input }) => ctx.command((turn) => people.takePaddle(turn, ctx.actor, input))),

  paddles: staff('maker', 'host', 'treasurer').query(({ ctx }) => people.listPaddles(ctx.sight())),

  raiseCeiling: staff('maker', 'host')
    .input(raiseCeilingIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => people.raiseCeiling(turn, input.paddle))),

  staff: staff('maker').query(({ ctx }) => people.listStaff(ctx.sight())),

  setRole: confirmed('maker')
    .input(setRoleIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => people.setRole(turn, input))),

  demoPeople: anyone.query(({ ctx }) => (people.isDemo(ctx) ? people.demoPeople(ctx.sight()) : null)),

  stepInto: anyone.input(stepIntoIn).mutation(async ({ ctx, input }) => {
    if (!people.isDemo(ctx)) throw new Refusal('not-found', 'There is nothing here.')
    const one = people.demoPeople(ctx.sight()).find(({ personId }) => personId === input.personId)
    if (!one) throw new Refusal('not-found', 'There is no such role in this demo.')
    await enter(ctx, one.personId)
    return { role: one.role }
  }),
})
