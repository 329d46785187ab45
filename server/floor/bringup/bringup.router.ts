import { withdrawIn } from '#bench/certificates/certificates.contract'
import { addEvidenceIn, evidenceIdIn, showEvidenceIn } from '#bench/units/evidence.contract'
import { addEvidence, evidenceViews, showEvidence, takeEvidenceAway } from '#bench/units/evidence.service'
import { correctFitting } from '#bench/units/fit.service'
import { fitAll } from '#bench/units/fit-all.service'
import { instrumentSheet, listInstruments, saveInstrument } from '#bench/units/instruments.service'
import { pickPage } from '#bench/units/pick.service'
import { releaseHold } from '#bench/units/readings.service'
import { unitsAtOtherRevisions } from '#bench/units/revise.service'
import { previewRework } from '#bench/units/rework.service'
import { noteColdStart, noteInSoak, startSoak, stopSoak } from '#bench/units/soak.service'
import { loadUnit } from '#bench/units/unit-state.service'
import {
  atRevisionIn,
  coldStartIn,
  correctFittingIn,
  correctionIn,
  fitAllIn,
  fitIn,
  instrumentIdIn,
  instrumentIn,
  moveIn,
  previewReworkIn,
  readingIn,
  releaseIn,
  reworkIn,
  runIn,
  setAsideIn,
  soakNoteIn,
  startSoakIn,
  stopSoakIn,
  tagIn,
  unitsIn,
} from '#bench/units/units.contract'
import { listRuns, makeRun, makeUnits } from '#bench/units/units.service'
import { fitChoices, timelineOf } from '#bench/units/view.service'
import { type Context, confirmed, router, staff } from '#runtime/call/base'
import type { Turn } from '#runtime/queue/turn'
import { readFirstSteps } from '../rack/first-steps.service'
import { readRack } from '../rack/rack.service'
import {
  bringupView,
  enterCorrection,
  enterFitting,
  enterMove,
  enterReading,
  enterRework,
  enterSearching,
  setAside,
  takeUp,
  withdrawCertificate,
} from './bringup.service'

const looks = staff('maker', 'volunteer', 'treasurer', 'host')
const works = staff('maker', 'volunteer')

/** The answer brings what the unit looks like after it: the next check is at hand without waiting for anything else. */
async function andView<Answer extends object>(ctx: Context, tag: string, work: (turn: Turn) => Answer) {
  const answer = await ctx.command(work)
  return { ...answer, view: bringupView(ctx.sight(), tag) }
}

export const bringupRouter = router({
  rack: looks.query(({ ctx }) => readRack(ctx.sight())),
  /** Null once a lot has been opened. */
  firstSteps: staff('maker').query(({ ctx }) => readFirstSteps(ctx.sight(), readRack(ctx.sight()))),
  runs: looks.query(({ ctx }) => listRuns(ctx.sight())),
  instruments: looks.query(({ ctx }) => listInstruments(ctx.sight())),
  instrument: looks.input(instrumentIdIn).query(({ ctx, input }) => instrumentSheet(ctx.sight(), input.id)),
  unit: looks.input(tagIn).query(({ ctx, input }) => bringupView(ctx.sight(), input.tag)),
  /** All that happened to the unit, of which its screen has the newest. */
  timeline: looks.input(tagIn).query(({ ctx, input }) => timelineOf(ctx.sight(), loadUnit(ctx.sight(), input.tag))),
  choices: works.input(tagIn).query(({ ctx, input }) => fitChoices(ctx.sight(), input.tag)),
  /** What is kept beside the readings, with what is drawn of it. */
  evidence: looks.input(tagIn).query(({ ctx, input }) => evidenceViews(ctx.sight(), loadUnit(ctx.sight(), input.tag))),
  addEvidence: works.input(addEvidenceIn).mutation(({ ctx, input }) => ctx.command((turn) => addEvidence(turn, ctx.actor, input))),
  takeEvidenceAway: works.input(evidenceIdIn).mutation(({ ctx, input }) => ctx.command((turn) => takeEvidenceAway(turn, ctx.actor, input))),
  /** What is shown to everybody is chosen piece by piece. */
  showEvidence: staff('maker')
    .input(showEvidenceIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => showEvidence(turn, ctx.actor, input))),
  pick: works.input(tagIn).query(({ ctx, input }) => pickPage(ctx.sight(), input.tag)),
  previewRework: works.input(previewReworkIn).query(({ ctx, input }) => previewRework(ctx.sight(), input)),

  makeRun: staff('maker')
    .input(runIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => makeRun(turn, ctx.actor, input))),
  makeUnits: staff('maker')
    .input(unitsIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => makeUnits(turn, ctx.actor, input))),
  saveInstrument: staff('maker')
    .input(instrumentIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => saveInstrument(turn, ctx.actor, input))),
  fit: works.input(fitIn).mutation(({ ctx, input }) => ctx.command((turn) => enterFitting(turn, ctx.actor, input))),
  /** All lines at once, each from its only batch. */
  fitAll: works.input(fitAllIn).mutation(({ ctx, input }) => ctx.command((turn) => fitAll(turn, ctx.actor, input))),
  correctFitting: works.input(correctFittingIn).mutation(({ ctx, input }) => ctx.command((turn) => correctFitting(turn, ctx.actor, input))),
  takeReading: works.input(readingIn).mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => enterReading(turn, ctx.actor, input))),
  correct: works
    .input(correctionIn)
    .mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => enterCorrection(turn, ctx.actor, input))),
  search: works.input(readingIn).mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => enterSearching(turn, ctx.actor, input))),
  release: works.input(releaseIn).mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => releaseHold(turn, ctx.actor, input))),
  rework: works.input(reworkIn).mutation(({ ctx, input }) => ctx.command((turn) => enterRework(turn, ctx.actor, input))),
  startSoak: works.input(startSoakIn).mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => startSoak(turn, ctx.actor, input))),
  coldStart: works
    .input(coldStartIn)
    .mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => noteColdStart(turn, ctx.actor, input))),
  noteInSoak: works.input(soakNoteIn).mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => noteInSoak(turn, ctx.actor, input))),
  stopSoak: works.input(stopSoakIn).mutation(({ ctx, input }) => andView(ctx, input.tag, (turn) => stopSoak(turn, ctx.actor, input))),
  otherRevisions: looks.input(atRevisionIn).query(({ ctx, input }) => unitsAtOtherRevisions(ctx.sight(), input.designId)),
  move: staff('maker')
    .input(moveIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => enterMove(turn, ctx.actor, input))),
  setAside: staff('maker')
    .input(setAsideIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => setAside(turn, ctx.actor, input))),
  takeUp: staff('maker')
    .input(tagIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => takeUp(turn, ctx.actor, input))),
  withdrawCertificate: confirmed('maker')
    .input(withdrawIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => withdrawCertificate(turn, input))),
})
