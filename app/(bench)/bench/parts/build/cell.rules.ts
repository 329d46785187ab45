import type { LineOutlook } from '#bench/buildable/build.contract'

export const CELL_STATES = ['fitted', 'there', 'instead', 'on its way', 'promised', 'missing'] as const
export type CellState = (typeof CELL_STATES)[number]

/** How one line of a unit stands: the worst of its pieces decides, since one missing piece stops it. */
export function cellState(line: LineOutlook | undefined): CellState {
  if (!line) return 'fitted'
  if (line.missing > 0) return 'missing'
  if (line.promised > 0) return 'promised'
  if (line.onItsWay > 0) return 'on its way'
  return line.instead > 0 ? 'instead' : 'there'
}

/** "6: 4 missing, 2 on their way": what a cell says in words. */
export function cellWords(line: LineOutlook | undefined, quantity: number): string {
  if (!line) return `${quantity} fitted`
  const open = line.there + line.onItsWay + line.promised + line.missing
  const said = [
    quantity > open ? `${quantity - open} fitted` : '',
    line.there - line.instead > 0 ? `${line.there - line.instead} there` : '',
    line.instead > 0 ? `${line.instead} there as a substitute` : '',
    line.onItsWay > 0 ? `${line.onItsWay} on the way` : '',
    line.promised > 0 ? `${line.promised} promised` : '',
    line.missing > 0 ? `${line.missing} missing` : '',
  ]
  return said.filter(Boolean).join(', ')
}

export const CELL_WORDS: Record<CellState, string> = {
  fitted: 'fitted',
  there: 'there',
  instead: 'there, as a substitute',
  'on its way': 'on its way',
  promised: 'promised',
  missing: 'missing',
}
