import { Refusal } from '#kernel/refusal'
import { listStaff } from '#people/people/people.service'
import { anyone, router, staff } from '#runtime/call/base'
import { noteEvent } from '#runtime/settings/events'
import { causeIn, enterIn, paceIn } from './rehearsal.contract'

const runs = staff('maker', 'host')

export const rehearsalRouter = router({
  /** Whether this house is a rehearsal: its pages say so. */
  here: anyone.query(({ ctx }) => ctx.rehearsal.view(ctx.sight(), ctx.actor).is === 'rehearsal'),
  view: runs.query(({ ctx }) => ctx.rehearsal.view(ctx.sight(), ctx.actor)),
  start: runs.mutation(({ ctx }) => ctx.rehearsal.start()),
  stop: runs.mutation(({ ctx }) => ctx.rehearsal.stop()),
  cause: runs.input(causeIn).mutation(({ ctx, input }) => ctx.rehearsal.cause(input.trouble, input.answer)),
  pace: runs.input(paceIn).mutation(({ ctx, input }) => ctx.rehearsal.setPace(input.pace)),
  /** Steps into a rehearsal as who one is in the house, with the pass that one was given; never as anybody else. */
  enter: anyone.input(enterIn).mutation(async ({ ctx, input }) => {
    const holder = ctx.rehearsal.whoHolds(input.pass)
    const person = listStaff(ctx.sight()).find(({ personId }) => personId === holder)
    if (!person) {
      noteEvent(ctx.log, 'sign-in failed', { address: ctx.address, way: 'pass of a rehearsal' })
      throw new Refusal(
        'not-yours-to-do',
        'That address does not open a rehearsal for you. Use the one you were given when it started, including everything after the #.',
      )
    }
    for (const cookie of await ctx.signIn.openSession(person.personId, ctx.device())) ctx.setCookie(cookie)
    noteEvent(ctx.log, 'signed in', { address: ctx.address, way: 'pass of a rehearsal', by: person.personId })
    return { role: person.role, name: person.name }
  }),
})
