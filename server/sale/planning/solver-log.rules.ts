import type { Minor } from '#kernel/money'

const FIGURE = String.raw`(-?(?:inf|\d+(?:\.\d+)?(?:e[+-]?\d+)?))`
const LINE = new RegExp(String.raw`^\s*\S?\s+\d+\s+\d+\s+\d+\s+[\d.]+%\s+${FIGURE}\s+${FIGURE}\s`)

/** The bound and the best so far in a line of HiGHS's log of a search; null for its other lines. Not yet known is null. */
export function boundsIn(line: string): { bestMinor: Minor | null; boundMinor: Minor | null } | null {
  const [, bound, best] = LINE.exec(line) ?? []
  if (bound === undefined || best === undefined) return null
  const figure = (text: string) => (text.includes('inf') ? null : Math.round(Number(text)))
  return { boundMinor: figure(bound), bestMinor: figure(best) }
}
