import { z } from 'zod'
import { router, staff } from '../trpc/base'
import { acceptIn, designIn, refuseIn } from './design.contract'
import { getDesign, importDesign, listDesigns, previewImport } from './designs.service'
import { acceptSubstitute, refuseSubstitute } from './substitutes.service'

const idIn = z.strictObject({ id: z.string().min(1).max(60) })

export const designsRouter = router({
  list: staff('maker', 'volunteer', 'host', 'treasurer').query(({ ctx }) => listDesigns(ctx.sight())),
  get: staff('maker', 'volunteer', 'host', 'treasurer')
    .input(idIn)
    .query(({ ctx, input }) => getDesign(ctx.sight(), input.id)),
  /** A mutation only because three lists do not fit into an address; it stores nothing. */
  preview: staff('maker')
    .input(designIn.pick({ checklist: true, partsList: true, feeds: true }))
    .mutation(({ input }) => previewImport(input)),
  accept: staff('maker')
    .input(acceptIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => acceptSubstitute(turn, ctx.actor, input))),
  refuse: staff('maker')
    .input(refuseIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => refuseSubstitute(turn, ctx.actor, input))),
  import: staff('maker')
    .input(designIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => importDesign(turn, ctx.actor, input))),
})
