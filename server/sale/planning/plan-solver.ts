import loadHighs from 'highs'
import { planDay } from './plan.rules'
import type { PlanAnswer, PlanNews, PlanQuestion } from './planning.contract'
import type { Solve } from './solved.rules'
import { boundsIn } from './solver-log.rules'

/** Plans a day on the thread that calls it, telling how far it is as it goes. */
export async function answerPlan(question: PlanQuestion, tell: (news: PlanNews) => void): Promise<PlanAnswer> {
  const began = performance.now()
  const seconds = () => Math.round(performance.now() - began) / 1000
  const solve = await openPlanSolver()
  return planDay(question, solve, { tell, seconds })
}

/** After so long a program is given up with the best plan and the bound that there are; common practice, no source. */
const LIMIT_SECONDS = 60

/** HiGHS as the planner calls it. */
export async function openPlanSolver(limitSeconds: number = LIMIT_SECONDS): Promise<Solve> {
  let bound: number | null = null
  const highs = await loadHighs({
    print: (line: string) => {
      bound = boundsIn(line)?.boundMinor ?? bound
    },
  })
  return (lp, label) => {
    bound = null
    const solution = highs.solve(lp, {
      mip_rel_gap: 0,
      // Worth is counted in whole minor units and early slots for less than a tenth of one, so a gap under this proves the optimum.
      mip_abs_gap: 0.8,
      mip_heuristic_effort: 0,
      mip_allow_restart: false,
      time_limit: limitSeconds,
      // With its presolve HiGHS 1.15 lost the best plan of a day and called another impossible one optimal, both of
      // which the suite holds; without it days of this shape are planned sooner, too.
      presolve: 'off',
    })
    const { Status, Columns, ObjectiveValue } = solution
    if (Status === 'Infeasible') return null
    const columns = Object.entries(Columns)
    const values = columns.flatMap(([name, column]) => ('Primal' in column && column.Primal ? [[name, column.Primal] as const] : []))
    const isOutOfTime = Status === 'Time limit reached' && values.length > 0 && bound !== null
    if (Status !== 'Optimal' && !isOutOfTime) throw new Error(`the solver ended with "${Status}" for ${label}`)
    const costs = columns.flatMap(([name, column]) => ('Dual' in column ? [[name, Math.abs(column.Dual)] as const] : []))
    return {
      values: new Map(values),
      objective: ObjectiveValue,
      bound: isOutOfTime ? (bound ?? ObjectiveValue) : ObjectiveValue,
      ...(costs.length > 0 && { costs: new Map(costs) }),
    }
  }
}
