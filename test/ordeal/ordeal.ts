import type { Line } from './table'
import { type Lie, type Row, runRow } from './trial'

export interface OrdealEnd {
  lines: Line[]
  /** The first lie, and in which row it was told. */
  told: { row: Row; lie: Lie } | null
}

/** Shares the time among the rows, one after another, and stops at the first lie. What one row leaves over, the later ones have. */
export async function ordeal(
  rows: readonly Row[],
  wishes: { seed: number; seconds: number; show?: (lines: readonly Line[]) => void },
): Promise<OrdealEnd> {
  const { seed, show = () => {} } = wishes
  const lines: Line[] = rows.map((row) => ({ row, result: null }))
  let secondsLeft = wishes.seconds
  let weightLeft = rows.reduce((sum, { weight = 1 }) => sum + weight, 0)
  for (const line of lines) {
    const { weight = 1 } = line.row
    line.isOn = true
    const began = performance.now()
    const { result, lie } = await runRow(line.row, {
      seed,
      seconds: (secondsLeft * weight) / weightLeft,
      changed: (now) => {
        line.result = now
        show(lines)
      },
    })
    line.isOn = false
    line.result = result
    show(lines)
    if (lie) return { lines, told: { row: line.row, lie } }
    secondsLeft = Math.max(0, secondsLeft - (performance.now() - began) / 1000)
    weightLeft -= weight
  }
  return { lines, told: null }
}
