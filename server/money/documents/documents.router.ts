import { router, signedIn, staff } from '#runtime/call/base'
import { readDesk, readMine } from './desk.service'
import * as shape from './documents.contract'
import * as documents from './documents.service'
import { payInvoice } from './pay-together.service'

export const documentsRouter = router({
  desk: staff('treasurer', 'maker').query(({ ctx }) => readDesk(ctx.sight(), ctx.actor)),
  mine: signedIn.query(({ ctx }) => readMine(ctx.sight(), ctx.actor)),
  issueMine: signedIn.input(shape.issueIn).mutation(({ ctx, input }) => ctx.command((turn) => documents.issueMine(turn, ctx.actor, input))),
  issue: staff('treasurer', 'maker')
    .input(shape.issueIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => documents.issueForBuyer(turn, ctx.actor, input))),
  makeOut: staff('treasurer', 'maker')
    .input(shape.makeOutIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => documents.makeOut(turn, ctx.actor, input))),
  pay: staff('treasurer')
    .input(shape.payInvoiceIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => payInvoice(turn, ctx.actor, input))),
})
