import { router, staff } from '#runtime/call/base'
import { partIn } from './part.contract'
import { findOrAddPart, listParts } from './part.service'

const handles = staff('maker', 'volunteer')

export const partsRouter = router({
  list: handles.query(({ ctx }) => listParts(ctx.sight())),
  add: handles.input(partIn).mutation(({ ctx, input }) => ctx.command((turn) => findOrAddPart(turn, input))),
})
