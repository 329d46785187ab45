import loadHighs from 'highs'
import type { BuildAnswer, BuildQuestion } from './build.contract'
import { planBuild } from './build-plan.rules'
import type { Solve } from './most-units.rules'

let loaded: Promise<Solve> | null = null

/** HiGHS, loaded once. It computes on the thread that calls it. */
export function openSolver(): Promise<Solve> {
  loaded ??= loadHighs().then((highs) => (lp) => {
    // All goals are whole numbers, so a gap under one half proves the optimum.
    const { Status, Columns } = highs.solve(lp, { mip_rel_gap: 0, mip_abs_gap: 0.5 })
    if (Status !== 'Optimal') throw new Error(`the solver ended with "${Status}"`)
    return Object.fromEntries(Object.entries(Columns).map(([name, column]) => [name, 'Primal' in column ? column.Primal : 0]))
  })
  return loaded
}

export const answerBuild = async (question: BuildQuestion): Promise<BuildAnswer> => planBuild(question, await openSolver())
