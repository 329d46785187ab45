import { appendFileSync } from 'node:fs'

/** One line of the table that `npm run bench` prints at its end. */
export interface Row {
  measure: string
  run: number
  /** What it is held against, measured in the same run. */
  baseline?: number
  /** What that is. */
  of?: string
  /** For the ratio to the baseline, or for the figure itself; what has no goal is only told. */
  goal?: { atLeast?: number; atMost?: number; runAtLeast?: number; runAtMost?: number }
}

/** Notes a line for the table, where there is to be one. */
export function row(one: Row): void {
  if (process.env.BENCH_ROWS) appendFileSync(process.env.BENCH_ROWS, `${JSON.stringify(one)}\n`)
}
