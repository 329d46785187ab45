import { z } from 'zod'
import { expectedIn, importanceIn, readyIn } from '#bench/buildable/build.contract'
import { expectGift, readBuild, setImportance, setReady } from '#bench/buildable/build.service'
import { catalogue, partPage } from '#bench/buildable/catalogue.service'
import { findByCode, searchBatches } from '#bench/buildable/search.service'
import { shortfall, wantedList } from '#bench/buildable/shortfall.service'
import { anyone, router, staff } from '#runtime/call/base'
import { badIn, batchTestIn, findIn, inspectionIn, partIn, purchaseIn, recountIn, samplingIn, searchIn } from '../catalogue/part.contract'
import { findOrAddPart, listParts } from '../catalogue/part.service'
import { buyBatch } from './batch.service'
import { partsExportIn } from './export.contract'
import { exportParts } from './export.service'
import { inspectPiece } from './piece.service'
import { piecePage } from './piece-page.service'
import { fixSampling, testBatch } from './sampling.service'
import { markBad, recountBatch } from './stock.service'

const handles = staff('maker', 'volunteer')

export const partsRouter = router({
  list: handles.query(({ ctx }) => listParts(ctx.sight())),
  catalogue: handles.query(({ ctx }) => catalogue(ctx.sight())),
  one: handles.input(z.strictObject({ partId: z.string() })).query(({ ctx, input }) => partPage(ctx.sight(), input.partId)),
  build: handles.query(({ ctx }) => readBuild(ctx.sight(), ctx.builder)),
  expect: handles.input(expectedIn).mutation(({ ctx, input }) => ctx.command((turn) => expectGift(turn, ctx.actor, input))),
  export: handles.input(partsExportIn).query(({ ctx, input }) => exportParts(ctx.sight(), ctx.builder, input.what)),
  importance: staff('maker')
    .input(importanceIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => setImportance(turn, ctx.actor, input))),
  readyDay: staff('maker')
    .input(readyIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => setReady(turn, ctx.actor, input))),
  find: handles.input(findIn).query(({ ctx, input }) => findByCode(ctx.sight(), input)),
  piece: handles.input(z.strictObject({ tag: z.string().max(60) })).query(({ ctx, input }) => piecePage(ctx.sight(), input.tag)),
  search: handles.input(searchIn).query(({ ctx, input }) => searchBatches(ctx.sight(), input)),
  sampling: handles.input(samplingIn).mutation(({ ctx, input }) => ctx.command((turn) => fixSampling(turn, ctx.actor, input))),
  test: handles.input(batchTestIn).mutation(({ ctx, input }) => ctx.command((turn) => testBatch(turn, ctx.actor, input))),
  shortfall: handles.query(({ ctx }) => shortfall(ctx.sight())),
  wanted: anyone.query(({ ctx }) => wantedList(ctx.sight())),
  add: handles.input(partIn).mutation(({ ctx, input }) => ctx.command((turn) => findOrAddPart(turn, input))),
  buy: handles.input(purchaseIn).mutation(({ ctx, input }) => ctx.command((turn) => buyBatch(turn, ctx.actor, input))),
  recount: handles.input(recountIn).mutation(({ ctx, input }) => ctx.command((turn) => recountBatch(turn, ctx.actor, input))),
  markBad: handles.input(badIn).mutation(({ ctx, input }) => ctx.command((turn) => markBad(turn, ctx.actor, input))),
  inspect: handles.input(inspectionIn).mutation(({ ctx, input }) => ctx.command((turn) => inspectPiece(turn, ctx.actor, input))),
})
