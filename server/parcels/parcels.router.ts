import { z } from 'zod'
import { giftMoveIn } from '../donors/donor.contract'
import { listDonors } from '../donors/donor.service'
import { thanksIn } from '../donors/thanks.contract'
import { router, staff } from '../trpc/base'
import { exportIn } from './export.contract'
import { exportTable } from './export.service'
import { moveArrivedGift } from './gift-move.service'
import { parcelIn } from './parcel.contract'
import { getParcel, listParcels, logParcel, parcelStart } from './parcel.service'
import { listThanksDue, sendThanks } from './thanks.service'

const handles = staff('maker', 'volunteer')

export const parcelsRouter = router({
  start: handles.query(({ ctx }) => {
    const sight = ctx.sight()
    return { ...parcelStart(sight), donors: listDonors(sight) }
  }),
  log: handles.input(parcelIn).mutation(({ ctx, input }) => ctx.command((turn) => logParcel(turn, ctx.actor, input))),
  list: handles.query(({ ctx }) => listParcels(ctx.sight())),
  one: handles.input(z.strictObject({ parcelId: z.string() })).query(({ ctx, input }) => getParcel(ctx.sight(), input.parcelId)),
  moveGift: handles.input(giftMoveIn).mutation(({ ctx, input }) => ctx.command((turn) => moveArrivedGift(turn, ctx.actor, input))),
  export: handles.input(exportIn).query(({ ctx, input }) => exportTable(ctx.sight(), input.what)),
  thanksDue: handles.query(({ ctx }) => listThanksDue(ctx.sight())),
  thank: handles.input(thanksIn).mutation(({ ctx, input }) => ctx.command((turn) => sendThanks(turn, ctx.actor, input))),
})
