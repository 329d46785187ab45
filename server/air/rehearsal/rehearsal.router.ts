import { Refusal } from '#kernel/refusal'
import { listStaff } from '#people/people/people.service'
import { anyone, router, staff } from '#runtime/call/base'
import { causeIn, enterIn, paceIn } from './rehearsal.contract'

const runs = staff('maker', 'host')

export const rehearsalRouter = router({
  /** Whether this house is a rehearsal: its pages say so. */
  here: anyone.query(({ ctx }) => ctx.rehearsal.view(ctx.sight()).is === 'rehearsal'),
  view: runs.query(({ ctx }) => ctx.rehearsal.view(ctx.sight())),
  start: runs.mutation(({ ctx }) => ctx.rehearsal.start()),
  stop: runs.mutation(({ ctx }) => ctx.rehearsal.stop()),
  cause: runs.input(causeIn).mutation(({ ctx, input }) => ctx.rehearsal.cause(input.trouble, input.answer)),
  pace: runs.input(paceIn).mutation(({ ctx, input }) => ctx.rehearsal.setPace(input.pace)),
  /** Steps into a role of a rehearsal with the key that its start printed. */
  enter: anyone.input(enterIn).mutation(async ({ ctx, input }) => {
    if (!ctx.rehearsal.opensWith(input.key))
      throw new Refusal('not-yours-to-do', 'That key does not open this. Use the address that the start of the rehearsal gave.')
    const person = listStaff(ctx.sight()).find(({ role }) => role === input.role)
    if (!person) throw new Refusal('not-found', `Nobody is the ${input.role} here. Choose another role.`)
    for (const cookie of await ctx.signIn.openSession(person.personId, ctx.device())) ctx.setCookie(cookie)
    return { role: input.role }
  }),
})
