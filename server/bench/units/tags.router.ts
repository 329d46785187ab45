import { router, staff } from '#runtime/call/base'
import { findIn } from './tags.contract'
import { findByCode } from './tags.service'

export const tagsRouter = router({
  find: staff('maker', 'volunteer')
    .input(findIn)
    .query(({ ctx, input }) => findByCode(ctx.sight(), input)),
})
