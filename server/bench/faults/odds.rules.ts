/** From so many closed faults of a design on, shares are shown as figures: then what was found weighs as much as what was assumed. */
export const FIGURES_FROM = 10

/** "43 %", "0.4 %", "<0.1 %"; never all, and never nothing: no reading is beyond a slip. */
export function percent(share: number): string {
  const figure = share * 100
  if (figure > 99) return '>99 %'
  if (figure >= 9.95) return `${Math.round(figure)} %`
  return figure >= 0.1 ? `${figure.toFixed(1)} %` : '<0.1 %'
}

/** How likely something is, as people say it: until faults have been closed two digits would claim more than is known. */
export function oddsWords(share: number): string {
  if (share >= 0.9) return 'very likely'
  if (share >= 0.7) return 'about three to one'
  if (share >= 0.55) return 'more likely than not'
  if (share >= 0.4) return 'about even'
  if (share >= 0.2) return 'about one in four'
  if (share >= 0.07) return 'about one in ten'
  return share >= 0.01 ? 'hardly' : 'next to nothing'
}
