import { mustBeConfirmed, router, staff } from '#runtime/call/base'
import { keepBalances } from './balances.service'
import * as shape from './bank.contract'
import * as bank from './bank.service'
import { importBankFile, previewBankFile } from './bank-file.service'
import { forgetLayout } from './layouts.service'
import * as payout from './payout.contract'
import { bookPayout, readPayoutFile } from './payout.service'

const treasurer = staff('treasurer')

export const bankRouter = router({
  desk: staff('treasurer', 'maker').query(({ ctx }) => bank.readBank(ctx.sight(), ctx.actor)),
  /** Answers how a file is read; a mutation, since a file does not go into an address. */
  preview: treasurer.input(shape.bankFileIn).mutation(({ ctx, input }) => previewBankFile(ctx.sight(), input)),
  import: treasurer.input(shape.bankFileIn).mutation(({ ctx, input }) => ctx.command((turn) => importBankFile(turn, ctx.actor, input))),
  balances: treasurer.input(shape.balancesIn).mutation(({ ctx, input }) => ctx.command((turn) => keepBalances(turn, ctx.actor, input))),
  forgetLayout: treasurer.input(shape.forgetLayoutIn).mutation(({ ctx, input }) => ctx.command((turn) => forgetLayout(turn, input))),
  confirm: treasurer.input(shape.confirmIn).mutation(({ ctx, input }) => {
    if (bank.hasGoneOut(ctx.sight(), input.lineId)) mustBeConfirmed(ctx)
    return ctx.command((turn) => bank.confirmLine(turn, ctx.actor, input))
  }),
  place: treasurer.input(shape.placeLineIn).mutation(({ ctx, input }) => {
    if (bank.hasGoneOut(ctx.sight(), input.lineId)) mustBeConfirmed(ctx)
    return ctx.command((turn) => bank.placeLine(turn, ctx.actor, input))
  }),
  /** How a processor's list stands against a line; a mutation, since a file does not go into an address. */
  previewPayout: treasurer.input(payout.payoutFileIn).mutation(({ ctx, input }) => readPayoutFile(ctx.sight(), ctx.actor, input)),
  bookPayout: treasurer.input(payout.bookPayoutIn).mutation(({ ctx, input }) => {
    if (bank.hasGoneOut(ctx.sight(), input.lineId)) mustBeConfirmed(ctx)
    return ctx.command((turn) => bookPayout(turn, ctx.actor, input))
  }),
  setAside: treasurer.input(shape.setAsideIn).mutation(({ ctx, input }) => ctx.command((turn) => bank.setAside(turn, ctx.actor, input))),
  reopen: treasurer.input(shape.reopenIn).mutation(({ ctx, input }) => ctx.command((turn) => bank.reopenLine(turn, ctx.actor, input))),
})
