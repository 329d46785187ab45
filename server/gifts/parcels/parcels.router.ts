import { z } from 'zod'
import { idIn } from '#kernel/text'
import { confirmed, mustBeConfirmed, router, staff } from '#runtime/call/base'
import { exportIn } from './export.contract'
import { exportTable } from './export.service'
import { claimParcel, mergeDonors, previewMerge } from './merge.service'
import { nameGift } from './name-gift.service'
import { claimIn, mergeIn, nameGiftIn, parcelIn } from './parcel.contract'
import { catalogueEntries, getParcel, listParcels, logParcel, parcelStart } from './parcel.service'

const handles = staff('maker', 'volunteer')

export const parcelsRouter = router({
  start: handles.query(({ ctx }) => parcelStart(ctx.sight())),
  log: handles.input(parcelIn).mutation(({ ctx, input }) => ctx.command((turn) => logParcel(turn, ctx.actor, input))),
  list: handles.query(({ ctx }) => listParcels(ctx.sight())),
  one: handles.input(z.strictObject({ parcelId: idIn() })).query(({ ctx, input }) => getParcel(ctx.sight(), input.parcelId)),
  /** What a gift in words may be meant to be. */
  catalogue: handles.query(({ ctx }) => catalogueEntries(ctx.sight())),
  name: handles.input(nameGiftIn).mutation(({ ctx, input }) => ctx.command((turn) => nameGift(turn, ctx.actor, input))),
  claim: handles.input(claimIn).mutation(({ ctx, input }) => ctx.command((turn) => claimParcel(turn, ctx.actor, input))),
  previewMerge: handles.input(mergeIn).query(({ ctx, input }) => previewMerge(ctx.sight(), input)),
  mergeDonors: confirmed('maker')
    .input(mergeIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => mergeDonors(turn, ctx.actor, input))),
  /** The donors' table brings their email addresses out of the house. */
  export: handles.input(exportIn).query(({ ctx, input }) => {
    if (input.what === 'donors') mustBeConfirmed(ctx)
    return exportTable(ctx.sight(), input.what)
  }),
})
