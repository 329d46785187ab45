import { anyone, confirmed, router, staff } from '#runtime/call/base'
import { cueSheetIn } from './air.contract'
import { readCueSheet, readHost } from './air.service'
import { lotOverlayIn, overlayIn } from './overlay.contract'
import { readLotOnAir, readOverlay, readOverlayDesk, readOverlayNames, readRollingCredits } from './overlay.service'
import { changeOverlayKey } from './overlay-key.service'

const onAir = staff('host', 'maker')

export const airRouter = router({
  host: onAir.query(({ ctx }) => readHost(ctx.sight())),
  cueSheet: onAir.input(cueSheetIn).query(({ ctx, input }) => readCueSheet(ctx.sight(), input.lot)),
  changeKey: confirmed('host', 'maker').mutation(({ ctx }) => ctx.command((turn) => changeOverlayKey(turn, ctx.actor))),
  overlays: onAir.query(({ ctx }) => readOverlayDesk(ctx.sight())),
  /*
   * Opened by a key and by nothing else: a video mixer signs in to nothing. These only read; they are mutations because
   * those are sent as POST, where the key stands in a body. A query's input stands in an address, and so in logs.
   */
  overlay: anyone.input(overlayIn).mutation(({ ctx, input }) => readOverlay(ctx.sight(), input, ctx.actor)),
  overlayCredits: anyone.input(overlayIn).mutation(({ ctx, input }) => readRollingCredits(ctx.sight(), input, ctx.actor)),
  overlayNames: anyone.input(lotOverlayIn).mutation(({ ctx, input }) => readOverlayNames(ctx.sight(), input, ctx.actor)),
  overlayCard: anyone.input(lotOverlayIn).mutation(({ ctx, input }) => readLotOnAir(ctx.sight(), input, ctx.actor)),
})
