import type { Minor } from '#kernel/money'
import { WHOLE_BP } from '../journal/journal.rules'
import { type MatchPromise, matchOf } from '../matching/matching.rules'
import { type Basis, type LotToCome, type Outlook, outlookOf } from './outlook.rules'
import { add, atLeast, bothAtLeast, meanOf, nothing, type OnGrid, onGrid, quantile, varianceOf } from './sum.rules'

/** Everything that a forecast is worked out from. */
export interface ForecastIn {
  lots: LotToCome[]
  /** Lots that are still drafts and are not reckoned with. */
  drafts: number[]
  /** The campaign's. */
  shareBp: number
  targetMinor: Minor
  /** Hammered and given, matched money apart: what no bid can change any more. */
  lotsFixedMinor: Minor
  giftMinor: Minor
  promises: (MatchPromise & { receivedMinor: Minor })[]
}

export interface LotForecast {
  number: number
  title: string
  basis: Basis
  /** No bid yet, or no estimate with a spread: what it comes to is a guess. */
  isGuess: boolean
  hasBid: boolean
  /** For the cause. */
  leastMinor: Minor
  meanMinor: Minor
  mostMinor: Minor
  unsoldChance: number
  /** Its part of what is uncertain, all lots together 1. */
  part: number
  /** The chance of reaching the target if this lot went at its least, and at its most. */
  chanceAtLeast: number
  chanceAtMost: number
}

export interface Forecast {
  expectedMinor: Minor
  /** With 80 % the total lies between these, ends included. */
  lowMinor: Minor
  highMinor: Minor
  leastMinor: Minor
  mostMinor: Minor
  chance: number
  /** The chance lies surely between these two: the grid's error, bounded. */
  chanceFrom: number
  chanceTo: number
  /** By how much the amounts may be off for the grid's sake. */
  errorMinor: Minor
  lots: LotForecast[]
  bars: { fromMinor: Minor; toMinor: Minor; chance: number }[]
}

/** Cells of the grid over all that is uncertain. The work grows with its square, whatever the number of lots. */
const CELLS = 2048
const BARS = 48

/**
 * The total for the cause when every lot is over: independent lots added up on a grid of money. Each is rounded
 * by half a step at most, so the sum by half a step for each uncertain lot, and every answer is bounded by that.
 */
export function forecast(input: ForecastIn): Forecast {
  const outlooks = input.lots.map(outlookOf)
  const shareOf = ({ lot }: Outlook) => lot.shareBp ?? input.shareBp
  const range = outlooks.reduce((sum, one) => sum + ((one.mostMinor - one.leastMinor) * shareOf(one)) / WHOLE_BP, 0)
  const step = Math.max(1, range / CELLS)
  const grids = outlooks.map((outlook) => gridOf(outlook, shareOf(outlook), step))
  const before = [nothing(step)]
  for (const grid of grids) before.push(add(before.at(-1) ?? nothing(step), grid))
  const sum = before.at(-1) ?? nothing(step)
  const after = [nothing(step)]
  for (const grid of [...grids].reverse()) after.unshift(add(grid, after[0] ?? nothing(step)))

  const uncertain = outlooks.filter(({ leastMinor, mostMinor }) => mostMinor > leastMinor).length
  const errorMinor = Math.ceil((uncertain * step) / 2)
  const total = (lotsMinor: number) => totalWith(input, Math.round(lotsMinor))
  const needed = neededFrom(total, input.targetMinor, sum)
  const chanceOf = (x: number | null) => (x === null ? 0 : atLeast(sum, x))
  const variance = varianceOf(sum)
  const lots = outlooks.map((outlook, index): LotForecast => {
    const grid = grids[index] ?? nothing(step)
    const [left, right] = [before[index] ?? nothing(step), after[index + 1] ?? nothing(step)]
    const forCause = (minor: number) => (minor * shareOf(outlook)) / WHOLE_BP
    const given = (minor: number) => (needed === null ? 0 : bothAtLeast(left, right, needed - forCause(minor)))
    const isSpread = outlook.mostMinor > outlook.leastMinor
    return {
      number: outlook.lot.number,
      title: outlook.lot.title,
      basis: outlook.basis,
      hasBid: outlook.lot.standingMinor !== null,
      isGuess: outlook.lot.standingMinor === null || (outlook.basis !== 'estimate' && outlook.basis !== 'range'),
      leastMinor: Math.round(forCause(outlook.leastMinor)),
      meanMinor: Math.round(meanOf(grid)),
      mostMinor: Math.round(forCause(outlook.mostMinor)),
      unsoldChance: outlook.atMost(0),
      part: isSpread && variance > 0 ? varianceOf(grid) / variance : 0,
      chanceAtLeast: given(outlook.leastMinor),
      chanceAtMost: given(outlook.mostMinor),
    }
  })
  return {
    expectedMinor: Math.round(sum.mass.reduce((mean, weight, k) => mean + weight * total(sum.start + k * step), 0)),
    lowMinor: total(quantile(sum, 0.1)),
    highMinor: total(quantile(sum, 0.9)),
    leastMinor: total(sum.start),
    mostMinor: total(sum.start + range),
    chance: chanceOf(needed),
    chanceFrom: chanceOf(needed === null ? null : needed + (uncertain * step) / 2),
    chanceTo: needed === null ? 0 : chanceOf(needed - (uncertain * step) / 2),
    errorMinor,
    lots,
    bars: barsOf(sum, total),
  }
}

function gridOf({ leastMinor, mostMinor, atMost }: Outlook, shareBp: number, step: number): OnGrid {
  const scale = shareBp / WHOLE_BP
  if (scale === 0) return nothing(step)
  return onGrid({ least: leastMinor * scale, most: mostMinor * scale, atMost: (x) => atMost(x / scale) }, step)
}

/** What all comes to when the lots that are not over bring this for the cause: matched giving follows it, up to its caps. */
export function totalWith({ lotsFixedMinor, giftMinor, promises }: ForecastIn, lotsMinor: Minor): Minor {
  const matched = promises.map((promise) => {
    const lots = promise.base === 'gifts' ? 0 : lotsFixedMinor + lotsMinor
    const gifts = promise.base === 'lots' ? 0 : giftMinor
    return promise.isEnded ? promise.receivedMinor : Math.max(promise.receivedMinor, matchOf(lots + gifts, promise))
  })
  return lotsFixedMinor + giftMinor + lotsMinor + matched.reduce((sum, each) => sum + each, 0)
}

/** The least that the lots must bring for the target; null when even the most is too little. The total never falls as they bring more. */
function neededFrom(total: (minor: number) => Minor, targetMinor: Minor, sum: OnGrid): number | null {
  let low = Math.floor(sum.start)
  let high = Math.ceil(sum.start + sum.mass.length * sum.step)
  if (total(high) < targetMinor) return null
  if (total(low) >= targetMinor) return low
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (total(middle) >= targetMinor) high = middle
    else low = middle
  }
  return high
}

/** The picture: equal widths of the total, over all but the outermost thousandth at either end. */
function barsOf(sum: OnGrid, total: (minor: number) => Minor): Forecast['bars'] {
  const [from, to] = [total(quantile(sum, 0.001)), total(quantile(sum, 0.999))]
  const width = Math.max(1, (to - from) / BARS)
  const bars = Array.from({ length: to > from ? BARS : 1 }, (_, index) => ({
    fromMinor: Math.round(from + index * width),
    toMinor: Math.round(from + (index + 1) * width),
    chance: 0,
  }))
  for (let k = 0; k < sum.mass.length; k += 1) {
    const index = Math.min(bars.length - 1, Math.max(0, Math.floor((total(sum.start + k * sum.step) - from) / width)))
    const bar = bars[index]
    if (bar) bar.chance += sum.mass[k] ?? 0
  }
  return bars
}
