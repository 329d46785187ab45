import { z } from 'zod'
import { idIn } from '#kernel/text'
import { router, staff } from '#runtime/call/base'
import { partIn } from './part.contract'
import { findOrAddPart, isOnePart, listParts } from './part.service'

const handles = staff('maker', 'volunteer')

export const partsRouter = router({
  list: handles.query(({ ctx }) => listParts(ctx.sight())),
  isOne: handles
    .input(z.strictObject({ partId: idIn() }))
    .mutation(({ ctx, input }) => ctx.command((turn) => isOnePart(turn, input.partId))),
  add: handles.input(partIn).mutation(({ ctx, input }) => ctx.command((turn) => findOrAddPart(turn, input))),
})
