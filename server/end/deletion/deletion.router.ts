import { confirmed, limited, router, staff } from '#runtime/call/base'
import { answerKeepIn, askToKeepIn, deletionIn, keepPageIn, termIn } from './deletion.contract'
import { clearFiles, deleteContacts, readContacts, readCopies } from './deletion.service'
import { answerKeep, askToKeep, readKeeping, readKeepPage } from './keep.service'
import { setTerm } from './term.service'

const maker = staff('maker')

/** A key is not found by trying. */
const byKey = limited({
  name: 'keep',
  each: 60,
  all: 600,
  perMinutes: 10,
  words: 'A lot of these letters have just been answered from here.',
})

export const deletionRouter = router({
  contacts: maker.query(({ ctx }) => readContacts(ctx.sight())),
  copies: maker.query(({ ctx }) => readCopies(ctx.sight(), ctx.packer, ctx.dataFolder)),
  setTerm: maker.input(termIn).mutation(({ ctx, input }) => ctx.command((turn) => setTerm(turn, ctx.actor, input))),
  /** Null where no campaign came before the present one. */
  keeping: maker.query(({ ctx }) => readKeeping(ctx.sight())),
  askToKeep: confirmed('maker')
    .input(askToKeepIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => askToKeep(turn, ctx.actor, input))),
  /** A mutation, so that the key stands in no address. */
  openKeep: byKey.input(keepPageIn).mutation(({ ctx, input }) => readKeepPage(ctx.sight(), input.token)),
  answerKeep: byKey.input(answerKeepIn).mutation(({ ctx, input }) => ctx.command((turn) => answerKeep(turn, input))),
  deleteContacts: confirmed('maker')
    .input(deletionIn)
    .mutation(async ({ ctx, input }) => {
      const deleted = await ctx.command((turn) => deleteContacts(turn, ctx.actor, input))
      clearFiles(ctx.sight(), ctx.packer, ctx.dataFolder, deleted)
      return { counts: deleted.counts }
    }),
})
