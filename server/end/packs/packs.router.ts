import { mustBeConfirmed, router, staff } from '#runtime/call/base'
import { packIn, packNameIn } from './packs.contract'
import { hasContacts, readPacks, removePack, startPack } from './packs.service'

const booksKeeper = staff('maker', 'treasurer')

export const packsRouter = router({
  all: booksKeeper.query(({ ctx }) => readPacks(ctx.sight(), ctx.packer)),
  start: booksKeeper.input(packIn).mutation(({ ctx, input }) => {
    if (input.withContacts) mustBeConfirmed(ctx)
    return startPack(ctx.sight(), ctx.packer, ctx.actor, input)
  }),
  /** Asked before a pack is fetched: its address answers only whoever may have it, and tells nobody else why in a dialog. */
  mayFetch: booksKeeper.input(packNameIn).mutation(({ ctx, input }) => {
    if (hasContacts(ctx.sight(), input.fileName)) mustBeConfirmed(ctx)
    return { fileName: input.fileName }
  }),
  stop: booksKeeper.mutation(({ ctx }) => ctx.packer.stop()),
  remove: booksKeeper.input(packNameIn).mutation(({ ctx, input }) => removePack(ctx.packer, input.fileName)),
})
