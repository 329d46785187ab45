import { type Builder, buildOnThisThread } from '#bench/buildable/builder'
import { type ListReader, readOnThisThread } from '#bench/designs/list-reader'
import { onThisThread, openPress } from '#doors/papers/press'
import { MOST_SHEET_MEGABYTES, readSheetOnThisThread, type SheetReader } from '#gifts/sheets/sheet-reader'
import type { Log } from '#runtime/settings/log'
import { openWorkshop } from '#runtime/workers/workers'
import { openPlanner, planOnThisThread } from '#sale/planning/planner'
import { openSimulator, playOnThisThread } from '#sale/simulation/simulator'

/** Bundles of the threads on which long work is done; without one it is done on the house's own. */
export interface Bundles {
  /** Sets papers. */
  paperWorker?: string
  /** Finds out what can be built. */
  buildWorker?: string
  /** Reads lists of designs. */
  listWorker?: string
  /** Reads spreadsheets. */
  sheetWorker?: string
  /** Plans the day. */
  planWorker?: string
  /** Plays the day many times over. */
  simulationWorker?: string
}

/** Where the long work of the house is done. */
export function openWorkshops({ paperWorker, buildWorker, listWorker, sheetWorker, planWorker, simulationWorker }: Bundles, log: Log) {
  const press = openPress(paperWorker === undefined ? onThisThread : openWorkshop({ entry: paperWorker, log }))
  const planner = openPlanner(planWorker === undefined ? planOnThisThread : openWorkshop({ entry: planWorker, log }), log)
  const simulator = openSimulator(simulationWorker === undefined ? playOnThisThread : openWorkshop({ entry: simulationWorker, log }), log)
  const builder: Builder = buildWorker === undefined ? buildOnThisThread : openWorkshop({ entry: buildWorker, log })
  const listReader: ListReader = listWorker === undefined ? readOnThisThread : openWorkshop({ entry: listWorker, log })
  const sheetReader: SheetReader =
    sheetWorker === undefined ? readSheetOnThisThread : openWorkshop({ entry: sheetWorker, log, mostMegabytes: MOST_SHEET_MEGABYTES })
  return {
    press,
    builder,
    listReader,
    sheetReader,
    planner,
    simulator,
    close() {
      for (const one of [press, builder, listReader, sheetReader, planner, simulator]) one.close()
    },
  }
}
