import type { Closing, PlanQuestion, Wish } from '#sale/planning/planning.contract'

export const closing = (lot: number, value: number[], change: Partial<Closing> = {}): Closing => ({
  lot,
  design: null,
  before: 2,
  after: 3,
  value,
  estimateMinor: Math.max(...value),
  earliest: 0,
  riseMinor: 0,
  barred: [],
  ...change,
})

export const question = (closings: Closing[], change: Partial<PlanQuestion> = {}): PlanQuestion => ({
  slots: (closings[0]?.value.length ?? 1) - 1,
  closings,
  taken: [],
  announced: [],
  wishes: [],
  likeApart: 0,
  mostAnHour: 0,
  silence: null,
  bestApart: null,
  best: null,
  ...change,
})

export const wish = (lot: number, change: Partial<Wish> = {}): Wish => ({
  id: `wish-${lot}-${change.kind ?? 'within'}`,
  lot,
  kind: 'within',
  from: 0,
  to: 0,
  isPin: true,
  weightMinor: 0,
  words: `a wish for lot ${lot}`,
  ...change,
})
