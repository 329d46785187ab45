import loadHighs from 'highs'
import { planDay, type Solve } from './plan.rules'
import type { PlanAnswer, PlanNews, PlanQuestion } from './planning.contract'
import { boundsIn } from './solver-log.rules'

/** Plans a day on the thread that calls it, telling how far it is as it goes. */
export async function answerPlan(question: PlanQuestion, tell: (news: PlanNews) => void): Promise<PlanAnswer> {
  const began = performance.now()
  const seconds = () => Math.round(performance.now() - began) / 1000
  const solve = await openPlanSolver((line) => {
    const bounds = boundsIn(line)
    if (bounds) tell({ stage: 'searching', seconds: seconds(), ...bounds })
  })
  return planDay(question, solve, { tell, seconds })
}

/** HiGHS as the planner calls it; `print` is given the lines of its log. */
export async function openPlanSolver(print: (line: string) => void = () => {}): Promise<Solve> {
  const highs = await loadHighs({ print })
  return (lp) => {
    // Worth is counted in whole minor units, so a gap under one proves the optimum.
    const { Status, Columns, ObjectiveValue } = highs.solve(lp, {
      mip_rel_gap: 0,
      mip_abs_gap: 0.9,
      mip_heuristic_effort: 0,
      mip_allow_restart: false,
      // With its presolve HiGHS 1.15 lost the best plan of a day and called another impossible one optimal, both of
      // which the suite holds; without it days of this shape are planned sooner, too.
      presolve: 'off',
    })
    if (Status === 'Infeasible') return null
    if (Status !== 'Optimal') throw new Error(`the solver ended with "${Status}"`)
    const values = Object.entries(Columns).flatMap(([name, column]) =>
      'Primal' in column && column.Primal ? [[name, column.Primal] as const] : [],
    )
    return { values: new Map(values), objective: ObjectiveValue }
  }
}
