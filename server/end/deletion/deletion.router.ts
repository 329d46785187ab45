import { confirmed, router, staff } from '#runtime/call/base'
import { deletionIn, termIn } from './deletion.contract'
import { clearFiles, deleteContacts, readContacts, readCopies } from './deletion.service'
import { setTerm } from './term.service'

const maker = staff('maker')

export const deletionRouter = router({
  contacts: maker.query(({ ctx }) => readContacts(ctx.sight())),
  copies: maker.query(({ ctx }) => readCopies(ctx.sight(), ctx.packer, ctx.dataFolder)),
  setTerm: maker.input(termIn).mutation(({ ctx, input }) => ctx.command((turn) => setTerm(turn, ctx.actor, input))),
  deleteContacts: confirmed('maker')
    .input(deletionIn)
    .mutation(async ({ ctx, input }) => {
      const deleted = await ctx.command((turn) => deleteContacts(turn, ctx.actor, input))
      clearFiles(ctx.sight(), ctx.packer, ctx.dataFolder, deleted)
      return { counts: deleted.counts }
    }),
})
