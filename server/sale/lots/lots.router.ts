import { router, staff } from '#runtime/call/base'
import { copyLot } from './copy.service'
import { readLadderFor, saveLadder } from './ladder.service'
import {
  addPhotographIn,
  addRecordingIn,
  afterwardsIn,
  copyLotIn,
  ladderIn,
  lotIn,
  removePhotographIn,
  removeRecordingIn,
  saveLadderIn,
  saveLotIn,
  savePostageIn,
  startLotIn,
} from './lots.contract'
import { getLotRow, listLots } from './lots.service'
import { readPastSales } from './past-sales.service'
import * as prepare from './prepare.service'
import { addRecording, listPlacedRecordings, removeRecording } from './recordings.service'

export const lotsRouter = router({
  all: staff('maker', 'host', 'treasurer').query(({ ctx }) => listLots(ctx.sight())),
  prepared: staff('maker')
    .input(lotIn)
    .query(({ ctx, input }) => prepare.readPrepared(ctx.sight(), input.lot)),
  /** What machines of the same design were sold for; null where none was. */
  pastSales: staff('maker')
    .input(lotIn)
    .query(({ ctx, input }) => readPastSales(ctx.sight(), input.lot)),
  startable: staff('maker').query(({ ctx }) => prepare.listStartable(ctx.sight())),
  start: staff('maker')
    .input(startLotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => prepare.startLot(turn, ctx.actor, input))),
  copy: staff('maker')
    .input(copyLotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => copyLot(turn, ctx.actor, input))),
  /** What each lot that is not open yet lacks. */
  gates: staff('maker', 'host', 'treasurer').query(({ ctx }) => prepare.listGates(ctx.sight())),
  save: staff('maker')
    .input(saveLotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => prepare.saveLot(turn, ctx.actor, input))),
  savePostage: staff('maker')
    .input(savePostageIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => prepare.savePostage(turn, ctx.actor, input))),
  ladder: staff('maker')
    .input(ladderIn)
    .query(({ ctx, input }) => readLadderFor(ctx.sight(), input.lot)),
  saveLadder: staff('maker')
    .input(saveLadderIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => saveLadder(turn, ctx.actor, input))),
  addPhotograph: staff('maker')
    .input(addPhotographIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => prepare.addPhotograph(turn, input))),
  removePhotograph: staff('maker')
    .input(removePhotographIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => prepare.removePhotograph(turn, input))),
  addRecording: staff('maker')
    .input(addRecordingIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => addRecording(turn, input))),
  removeRecording: staff('maker')
    .input(removeRecordingIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => removeRecording(turn, input))),
  recordings: staff('maker')
    .input(lotIn)
    .query(({ ctx, input }) => listPlacedRecordings(ctx.sight(), getLotRow(ctx.sight(), input.lot).id)),
  afterwards: staff('maker')
    .input(afterwardsIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => prepare.sayAfterwards(turn, ctx.actor, input))),
  publish: staff('maker')
    .input(lotIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => prepare.publishLot(turn, input.lot))),
})
