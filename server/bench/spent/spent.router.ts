import { router, staff } from '#runtime/call/base'
import { correctTime, setWeek } from './hours.service'
import { correctTimeIn, showSpentIn, spentTagIn, weekIn } from './spent.contract'
import { machineSpent, showSpent, spentPage } from './spent.service'

const works = staff('maker', 'volunteer')
const reads = staff('maker', 'volunteer', 'treasurer')
const maker = staff('maker')

export const spentRouter = router({
  all: reads.query(({ ctx }) => spentPage(ctx.sight())),
  unit: reads.input(spentTagIn).query(({ ctx, input }) => machineSpent(ctx.sight(), input.tag)),
  correctTime: works.input(correctTimeIn).mutation(({ ctx, input }) => ctx.command((turn) => correctTime(turn, ctx.actor, input))),
  setWeek: maker.input(weekIn).mutation(({ ctx, input }) => ctx.command((turn) => setWeek(turn, ctx.actor, input))),
  /** Nothing of it is public unless it was chosen, machine by machine. */
  show: maker.input(showSpentIn).mutation(({ ctx, input }) => ctx.command((turn) => showSpent(turn, ctx.actor, input))),
})
