import { z } from 'zod'
import { router, staff } from '#runtime/call/base'
import { giftMoveIn } from '#stock/donors/donor.contract'
import { listDonors } from '#stock/donors/donor.service'
import { soldThanksIn, thanksIn } from '#stock/donors/thanks.contract'
import { listSoldThanksDue, sendSoldThanks } from '../outcome/sold-thanks.service'
import { listThanksDue, sendThanks } from '../outcome/thanks.service'
import { exportIn } from './export.contract'
import { exportTable } from './export.service'
import { moveArrivedGift } from './gift-move.service'
import { claimParcel } from './merge.service'
import { claimIn, parcelIn } from './parcel.contract'
import { getParcel, listParcels, logParcel, parcelStart } from './parcel.service'

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
  claim: handles.input(claimIn).mutation(({ ctx, input }) => ctx.command((turn) => claimParcel(turn, ctx.actor, input))),
  thanksDue: handles.query(({ ctx }) => listThanksDue(ctx.sight())),
  soldThanksDue: handles.query(({ ctx }) => listSoldThanksDue(ctx.sight())),
  thank: handles.input(thanksIn).mutation(({ ctx, input }) => ctx.command((turn) => sendThanks(turn, ctx.actor, input))),
  thankSold: handles.input(soldThanksIn).mutation(({ ctx, input }) => ctx.command((turn) => sendSoldThanks(turn, ctx.actor, input))),
})
