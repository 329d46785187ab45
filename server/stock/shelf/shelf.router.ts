import { z } from 'zod'
import { text } from '#kernel/text'
import { router, staff } from '#runtime/call/base'
import { buyBatch, placeBatch } from './batch.service'
import { shelfExportIn } from './export.contract'
import { exportShelf } from './export.service'
import { inspectPiece } from './piece.service'
import { piecePage } from './piece-page.service'
import { setPrice } from './price.service'
import { fixSampling, testBatch, waiveBatch } from './sampling.service'
import { searchBatches } from './search.service'
import {
  badIn,
  batchTestIn,
  inspectionIn,
  otherPartIn,
  placeIn,
  priceIn,
  purchaseIn,
  recountIn,
  samplingIn,
  searchIn,
  waiveIn,
} from './shelf.contract'
import { isOtherPart, markBad, recountBatch } from './stock.service'

const handles = staff('maker', 'volunteer')

export const shelfRouter = router({
  search: handles.input(searchIn).query(({ ctx, input }) => searchBatches(ctx.sight(), input)),
  piece: handles.input(z.strictObject({ tag: text(60) })).query(({ ctx, input }) => piecePage(ctx.sight(), input.tag)),
  export: handles.input(shelfExportIn).query(({ ctx, input }) => exportShelf(ctx.sight(), input.what)),
  buy: handles.input(purchaseIn).mutation(({ ctx, input }) => ctx.command((turn) => buyBatch(turn, ctx.actor, input))),
  recount: handles.input(recountIn).mutation(({ ctx, input }) => ctx.command((turn) => recountBatch(turn, ctx.actor, input))),
  place: handles.input(placeIn).mutation(({ ctx, input }) => ctx.command((turn) => placeBatch(turn, ctx.actor, input))),
  setPrice: handles.input(priceIn).mutation(({ ctx, input }) => ctx.command((turn) => setPrice(turn, ctx.actor, input))),
  otherPart: handles.input(otherPartIn).mutation(({ ctx, input }) => ctx.command((turn) => isOtherPart(turn, ctx.actor, input))),
  markBad: handles.input(badIn).mutation(({ ctx, input }) => ctx.command((turn) => markBad(turn, ctx.actor, input))),
  inspect: handles.input(inspectionIn).mutation(({ ctx, input }) => ctx.command((turn) => inspectPiece(turn, ctx.actor, input))),
  fixSampling: handles.input(samplingIn).mutation(({ ctx, input }) => ctx.command((turn) => fixSampling(turn, ctx.actor, input))),
  waive: staff('maker')
    .input(waiveIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => waiveBatch(turn, ctx.actor, input))),
  testBatch: handles.input(batchTestIn).mutation(({ ctx, input }) => ctx.command((turn) => testBatch(turn, ctx.actor, input))),
})
