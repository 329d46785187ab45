import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { dayIn } from '../programme/programme.contract'
import { playIn } from './simulation.contract'
import { readSimulation, startSimulation } from './simulation.service'

const plans = staff('maker', 'host')

export const simulationRouter = router({
  /** Null before a day was played. */
  present: staff('maker', 'host', 'volunteer', 'treasurer')
    .input(dayIn)
    .query(({ ctx, input }) => (findCampaign(ctx.sight()) ? readSimulation(ctx.sight(), ctx.simulator, input.day) : null)),
  start: plans.input(playIn).mutation(({ ctx, input }) => startSimulation(ctx.sight(), ctx.simulator, input)),
  stop: plans.mutation(({ ctx }) => ctx.simulator.stop()),
})
