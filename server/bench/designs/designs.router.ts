import { z } from 'zod'
import { text } from '#kernel/text'
import { router, staff } from '#runtime/call/base'
import {
  acceptIn,
  chooseTellingIn,
  designIn,
  partsListIn,
  placementIn,
  previewPlacementIn,
  refuseIn,
  reviseIn,
  rowsIn,
} from './design.contract'
import { getDesign, listDesigns, partsListFile } from './designs.service'
import { importDesign, importPartsList, previewImport, previewPartsList } from './import.service'
import { placementOf, previewPlacement, savePlacement } from './placement.service'
import { readRows, reviseDesign, sheetsOf } from './revise.service'
import { acceptSubstitute, refuseSubstitute, substitutesOf } from './substitutes.service'
import { chooseTelling, readTelling } from './telling.service'

const idIn = z.strictObject({ id: text(60).min(1) })

export const designsRouter = router({
  list: staff('maker', 'volunteer', 'host', 'treasurer').query(({ ctx }) => listDesigns(ctx.sight())),
  get: staff('maker', 'volunteer', 'host', 'treasurer')
    .input(idIn)
    .query(({ ctx, input }) => getDesign(ctx.sight(), input.id)),
  /** A mutation only because three lists do not fit into an address; it stores nothing. */
  preview: staff('maker')
    .input(designIn.pick({ checklist: true, partsList: true, feeds: true }))
    .mutation(({ ctx, input }) => previewImport(ctx, input)),
  accept: staff('maker')
    .input(acceptIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => acceptSubstitute(turn, ctx.actor, input))),
  previewParts: staff('maker')
    .input(partsListIn)
    .mutation(({ ctx, input }) => previewPartsList(ctx, input)),
  importParts: staff('maker')
    .input(partsListIn)
    .mutation(({ ctx, input }) => importPartsList(ctx, ctx.actor, input)),
  partsListFile: staff('maker', 'volunteer')
    .input(idIn)
    .query(({ ctx, input }) => partsListFile(ctx.sight(), input.id)),
  substitutes: staff('maker', 'volunteer', 'host', 'treasurer')
    .input(idIn)
    .query(({ ctx, input }) => [...substitutesOf(ctx.sight(), input.id)].map(([lineId, parts]) => ({ lineId, parts }))),
  refuse: staff('maker')
    .input(refuseIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => refuseSubstitute(turn, ctx.actor, input))),
  telling: staff('maker', 'volunteer', 'host', 'treasurer')
    .input(idIn)
    .query(({ ctx, input }) => readTelling(ctx.sight(), input.id)),
  chooseTelling: staff('maker')
    .input(chooseTellingIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => chooseTelling(turn, input))),
  placement: staff('maker', 'volunteer', 'host', 'treasurer')
    .input(idIn)
    .query(({ ctx, input }) => placementOf(ctx.sight(), getDesign(ctx.sight(), input.id).key)),
  /** A mutation only because a file does not fit into an address; it stores nothing. */
  previewPlacement: staff('maker')
    .input(previewPlacementIn)
    .mutation(({ ctx, input }) => previewPlacement(ctx.sight(), input)),
  savePlacement: staff('maker')
    .input(placementIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => savePlacement(turn, ctx.actor, input))),
  sheets: staff('maker', 'volunteer', 'host', 'treasurer')
    .input(idIn)
    .query(({ ctx, input }) => sheetsOf(ctx.sight(), input.id)),
  /** A mutation only because a list does not fit into an address; it stores nothing. */
  readRows: staff('maker')
    .input(rowsIn)
    .mutation(({ input }) => readRows(input)),
  revise: staff('maker')
    .input(reviseIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => reviseDesign(turn, ctx.actor, input))),
  import: staff('maker')
    .input(designIn)
    .mutation(({ ctx, input }) => importDesign(ctx, ctx.actor, input)),
})
