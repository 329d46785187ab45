import { router, staff } from '#runtime/call/base'
import { listChangesIn } from './changes.contract'
import { listChanges } from './changes.service'

export const changesRouter = router({
  list: staff('maker', 'treasurer')
    .input(listChangesIn)
    .query(({ ctx, input }) => listChanges(ctx.sight(), input)),
})
