import { router, staff } from '#runtime/call/base'
import { packIn, packNameIn } from './packs.contract'
import { readPacks, removePack, startPack } from './packs.service'

const booksKeeper = staff('maker', 'treasurer')

export const packsRouter = router({
  all: booksKeeper.query(({ ctx }) => readPacks(ctx.sight(), ctx.packer)),
  start: booksKeeper.input(packIn).mutation(({ ctx, input }) => startPack(ctx.sight(), ctx.packer, ctx.actor, input)),
  stop: booksKeeper.mutation(({ ctx }) => ctx.packer.stop()),
  remove: booksKeeper.input(packNameIn).mutation(({ ctx, input }) => removePack(ctx.packer, input.fileName)),
})
