import loadHighs from 'highs'
import type { BuildAnswer, BuildQuestion } from './build.contract'
import { planBuild } from './build-plan.rules'
import type { Solve } from './most-units.rules'

let loaded: Promise<Solve> | null = null

/** HiGHS, loaded once. It computes on the thread that calls it. */
export function openSolver(): Promise<Solve> {
  loaded ??= loadHighs().then((highs) => (lp) => {
    // All goals are whole numbers, so a gap under one proves the optimum. Presolve is off: HiGHS 1.15 loses best answers with it.
    const { Status, Columns, Rows } = highs.solve(lp, {
      mip_rel_gap: 0,
      mip_abs_gap: 0.9,
      mip_heuristic_effort: 0,
      mip_allow_restart: false,
      presolve: 'off',
    })
    if (Status === 'Infeasible') return null
    if (Status !== 'Optimal') throw new Error(`the solver ended with "${Status}"`)
    const columns = Object.entries(Columns).map(([name, column]) => [name, 'Primal' in column ? column.Primal : 0])
    const prices = Rows.flatMap((row) => ('Dual' in row ? [[row.Name, row.Dual]] : []))
    return { columns: Object.fromEntries(columns), prices: Object.fromEntries(prices) }
  })
  return loaded
}

export const answerBuild = async (question: BuildQuestion): Promise<BuildAnswer> => planBuild(question, await openSolver())
