import { z } from 'zod'
import { idIn } from '#kernel/text'
import { anyone, router, staff } from '#runtime/call/base'
import { expectedIn, importanceIn, readyIn } from './build.contract'
import { readBuild } from './build.service'
import { exportShortfall } from './export.service'
import { listPartsInHand, partPage } from './part-page.service'
import { expectGift, setImportance, setReady } from './plan.service'
import { wantedList } from './shortfall.service'

const handles = staff('maker', 'volunteer')
const maker = staff('maker')

export const buildableRouter = router({
  now: handles.query(({ ctx }) => readBuild(ctx.sight(), ctx.builder)),
  /** The catalogue with what is in hand and what is short of each part; and one part of it with all its batches. */
  parts: handles.query(({ ctx }) => listPartsInHand(ctx.sight())),
  part: handles.input(z.strictObject({ partId: idIn() })).query(({ ctx, input }) => partPage(ctx.sight(), input.partId)),
  wanted: anyone.query(({ ctx }) => wantedList(ctx.sight())),
  exportShortfall: handles.query(({ ctx }) => exportShortfall(ctx.sight(), ctx.builder)),
  expectGift: handles.input(expectedIn).mutation(({ ctx, input }) => ctx.command((turn) => expectGift(turn, ctx.actor, input))),
  setImportance: maker.input(importanceIn).mutation(({ ctx, input }) => ctx.command((turn) => setImportance(turn, ctx.actor, input))),
  setReadyDay: maker.input(readyIn).mutation(({ ctx, input }) => ctx.command((turn) => setReady(turn, ctx.actor, input))),
})
