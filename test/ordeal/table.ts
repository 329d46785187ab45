import type { Result, Row } from './trial'

export interface Line {
  row: Row
  result: Result | null
  /** Whether it is being tried now. */
  isOn?: boolean
}

/** How it stands with a row, in words. A row that tried nothing has proved nothing. */
export function verdictOf(result: Result | null): string {
  if (!result) return 'not run'
  if (result.lies > 0) return 'NOT AS PROMISED'
  if (result.leftOut !== null) return 'left out'
  return result.tried === 0 ? 'not tried' : 'kept'
}

/** Whether all that was run was tried and kept its promise. What cannot be tried on a machine is said and counts for nothing. */
export const isKept = (lines: readonly Line[]): boolean => {
  const run = lines.filter(({ result }) => result !== null && result.leftOut === null)
  return run.length > 0 && run.every(({ result }) => verdictOf(result) === 'kept')
}

const grouped = (count: number): string => String(count).replace(/\B(?=(\d{3})+$)/g, ',')

/** The table as text: each row, how often it was tried, of how often it should be, and what was lost or not as promised. */
export function tableOf(lines: readonly Line[], width = 200): string {
  const head = ['row', 'what is tried', 'tried', 'goal', 'not as promised', 's', '']
  const cells = lines.map(({ row, result, isOn = false }) => [
    row.id,
    row.what,
    result ? `${grouped(result.tried)} ${row.unit}` : '',
    row.goal,
    result ? String(result.lies) : '',
    result ? result.seconds.toFixed(0) : '',
    isOn ? '…' : [verdictOf(result), ...(result?.leftOut ? [result.leftOut] : [])].join(': '),
  ])
  const widths = head.map((name, column) => Math.max(name.length, ...cells.map((row) => row[column]?.length ?? 0)))
  const line = (row: readonly string[]) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd()
      .slice(0, width)
  const notes = lines.flatMap(({ row, result }) => (result?.notes ?? []).map((words) => `${row.id}: ${words}`))
  return [line(head), line(widths.map((one) => '-'.repeat(one))), ...cells.map(line), ...(notes.length > 0 ? ['', ...notes] : [])].join(
    '\n',
  )
}
