import { anyone, router, staff } from '../trpc/base'
import { cueSheetIn, lotNamesIn, overlayIn } from './air.contract'
import { readCueSheet, readHost, readOverlay, readOverlayNames, readRollingCredits } from './air.service'
import { changeOverlayKey } from './overlay-key.service'

const onAir = staff('host', 'maker')

export const airRouter = router({
  host: onAir.query(({ ctx }) => readHost(ctx.sight())),
  cueSheet: onAir.input(cueSheetIn).query(({ ctx, input }) => readCueSheet(ctx.sight(), input.lot)),
  changeKey: onAir.mutation(({ ctx }) => ctx.command((turn) => changeOverlayKey(turn, ctx.actor))),
  /** Opened by the key in its address and by nothing else: a video mixer signs in to nothing. */
  overlay: anyone.input(overlayIn).query(({ ctx, input }) => readOverlay(ctx.sight(), input.key)),
  overlayCredits: anyone.input(overlayIn).query(({ ctx, input }) => readRollingCredits(ctx.sight(), input.key)),
  overlayNames: anyone.input(lotNamesIn).query(({ ctx, input }) => readOverlayNames(ctx.sight(), input.key, input.lot)),
})
