import { listWords } from '#stock/donors/gift.rules'

/** What the wanted list says of one part. */
export interface Wanted {
  partId: string
  what: string
  hardToFind: boolean
  quantity: number
  promised: number
  designs: string[]
  units: string[]
  /** Units that this part alone would complete. */
  frees: string[]
}

export interface MachineWants {
  design: string
  lines: Wanted[]
}

const byUrgency = (a: Wanted, b: Wanted): number =>
  b.frees.length - a.frees.length ||
  b.units.length - a.units.length ||
  Number(b.hardToFind) - Number(a.hardToFind) ||
  a.what.localeCompare(b.what, 'en')

/** What each machine waits for, the most urgent first: what alone would complete units, then what holds up most of them. */
export function byMachine(wanted: readonly Wanted[]): MachineWants[] {
  const designs = [...new Set(wanted.flatMap((line) => line.designs))]
  return designs
    .map((design) => ({ design, lines: wanted.filter((line) => line.designs.includes(design)).sort(byUrgency) }))
    .sort((a, b) => byUrgency(a.lines[0] as Wanted, b.lines[0] as Wanted) || a.design.localeCompare(b.design, 'en'))
}

/** "All that WREN-06 still lacks", or how many machines it holds up. */
export function urgencyWords({ frees, units }: Wanted): string {
  if (frees.length === 1) return `All that ${frees[0]} still lacks`
  if (frees.length > 1 && frees.length <= 3) return `All that ${listWords(frees, 'and')} still lack`
  if (frees.length > 3) return `All that ${frees.length} machines still lack`
  return units.length === 1 ? 'One machine is waiting for it' : `${units.length} machines are waiting for it`
}

export const isUrgent = ({ frees }: Wanted): boolean => frees.length > 0
