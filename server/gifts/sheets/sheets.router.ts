import { router, staff } from '#runtime/call/base'
import { beginSheetIn, chooseSheetIn, sheetIn, storeSheetIn } from './sheets.contract'
import { beginSheet, chooseSheet, dropSheet, listSheets, readSheetPage } from './sheets.service'
import { storeSheet } from './store-sheet.service'

export const sheetsRouter = router({
  list: staff('maker').query(({ ctx }) => listSheets(ctx.sight())),
  read: staff('maker')
    .input(sheetIn)
    .query(({ ctx, input }) => readSheetPage(ctx, input.id)),
  begin: staff('maker')
    .input(beginSheetIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => beginSheet(turn, ctx.actor, input))),
  /** Answers with how the sheet reads then. */
  choose: staff('maker')
    .input(chooseSheetIn)
    .mutation(async ({ ctx, input }) => {
      await ctx.command((turn) => chooseSheet(turn, input))
      return readSheetPage(ctx, input.id)
    }),
  drop: staff('maker')
    .input(sheetIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => dropSheet(turn, input.id))),
  store: staff('maker')
    .input(storeSheetIn)
    .mutation(({ ctx, input }) => storeSheet(ctx, ctx.actor, input)),
})
