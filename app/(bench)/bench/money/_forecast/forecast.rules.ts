import { levelsTo } from '#app/_ui/meter-day.rules.ts'
import { CURRENCIES, type Currency, type Minor, showMoney } from '#kernel/money'
import type { ForecastFrame } from '#money/forecast/forecast.contract'
import type { LotForecast } from '#money/forecast/forecast.rules'

/** "73 %", "under 1 %", "over 99 %": no certainty is claimed that is none. */
export function sayChance(chance: number): string {
  if (chance === 0) return '0 %'
  if (chance === 1) return '100 %'
  if (chance < 0.01) return 'under 1 %'
  return chance > 0.99 ? 'over 99 %' : `${Math.round(chance * 100)} %`
}

/** On what a lot's outlook rests, as it is said in the table. */
export function sayBasis({ basis, hasBid }: Pick<LotForecast, 'basis' | 'hasBid'>): string {
  switch (basis) {
    case 'estimate':
      return hasBid ? 'the bid, and low, likely and high' : 'low, likely and high; nobody has bid'
    case 'range':
      return hasBid ? 'the bid, and low and high' : 'low and high; nobody has bid'
    case 'one figure':
      return 'one figure without low and high, so its doubt is left out'
    case 'passed':
      return 'its bid, which has passed the estimate: it may go on'
    case 'bid alone':
      return 'its bid alone, without an estimate: it may go on'
    case 'nothing':
      return 'nothing: no bid and no estimate, so it is left out'
  }
}

/** How far the whole is to be trusted: a sentence for each reason to doubt it. */
export function sayDoubts({ lots, drafts }: Pick<ForecastFrame, 'lots' | 'drafts'>): string[] {
  const numbers = (some: readonly number[]) => `${some.length === 1 ? 'lot' : 'lots'} ${some.join(', ')}`
  const without = lots.filter(({ hasBid, basis }) => !hasBid && basis !== 'nothing').map(({ number }) => number)
  const loose = lots
    .filter(({ basis }) => basis === 'one figure' || basis === 'bid alone' || basis === 'passed')
    .map(({ number }) => number)
  const unknown = lots.filter(({ basis }) => basis === 'nothing').map(({ number }) => number)
  const guessed = lots.reduce((sum, lot) => sum + (lot.isGuess ? lot.meanMinor : 0), 0)
  const all = lots.reduce((sum, { meanMinor }) => sum + meanMinor, 0)
  return [
    ...(all > 0 && guessed / all > 0.5 ? ['More than half of what is still expected is a guess.'] : []),
    ...(without.length > 0 ? [`Nobody has bid on ${numbers(without)}: there is only the estimate to go by.`] : []),
    ...(loose.length > 0 ? [`For ${numbers(loose)} there is no low and high estimate, so the range is too narrow.`] : []),
    ...(unknown.length > 0 ? [`Nothing is known about ${numbers(unknown)}: left out.`] : []),
    ...(drafts.length > 0 ? [`Not counted, still a draft: ${numbers(drafts)}.`] : []),
  ]
}

/** The lot of which most of the doubt comes, when there is any. */
export const moverOf = (lots: readonly LotForecast[]): LotForecast | null =>
  lots.reduce<LotForecast | null>((most, lot) => (lot.part > (most?.part ?? 0) ? lot : most), null)

export interface ForecastPlot {
  /** Outlines in per cent of the plot: all of it, and the part in which 80 % lies. */
  whole: [x: number, y: number][]
  within: [x: number, y: number][]
  /** Per cent from the left; null off the picture. */
  targetAt: number | null
  targetSide: 'left' | 'right' | null
  expectedAt: number
  band: { from: number; to: number }
  ticks: { words: string; at: number }[]
}

export function plotForecast(found: ForecastFrame): ForecastPlot {
  const { bars, currency, targetMinor } = found
  const [first, last] = [bars[0]?.fromMinor ?? 0, bars.at(-1)?.toMinor ?? 1]
  const width = Math.max(1, last - first)
  // A target that is near is drawn in; one that is far away is pointed at.
  const from = targetMinor < first && first - targetMinor < width ? targetMinor - width * 0.04 : first
  const to = targetMinor > last && targetMinor - last < width ? targetMinor + width * 0.04 : last
  const x = (minor: Minor) => (100 * (minor - from)) / Math.max(1, to - from)
  const top = Math.max(...bars.map(({ chance }) => chance), 1e-9)
  const outline = (some: ForecastFrame['bars']) => {
    const [left, right] = [x(some[0]?.fromMinor ?? 0), x(some.at(-1)?.toMinor ?? 0)]
    const stairs = some.flatMap(({ fromMinor, toMinor, chance }): [number, number][] => {
      const y = 100 - (82 * chance) / top
      return [
        [x(fromMinor), y],
        [x(toMinor), y],
      ]
    })
    return [[left, 100], ...stairs, [right, 100]] as [number, number][]
  }
  const step = levelsTo(to - from)[0] ?? 1
  const levels = Array.from({ length: 7 }, (_, index) => (Math.ceil(from / step) + index) * step).filter((level) => level <= to)
  return {
    whole: outline(bars),
    within: outline(bars.filter(({ fromMinor, toMinor }) => toMinor > found.lowMinor && fromMinor < found.highMinor)),
    targetAt: targetMinor >= from && targetMinor <= to ? x(targetMinor) : null,
    targetSide: targetMinor < from ? 'left' : targetMinor > to ? 'right' : null,
    expectedAt: x(found.expectedMinor),
    band: { from: x(found.lowMinor), to: x(found.highMinor) },
    ticks: levels.map((level) => ({ words: showMoney(level, currency, { short: true }), at: x(level) })),
  }
}

/** What is said of the target: a chance, or why there is none to speak of. */
export function sayTarget(found: ForecastFrame): { head: string; rest: string } {
  const { chance, targetMinor, leastMinor, mostMinor, currency } = found
  const target = roundly(targetMinor, currency)
  if (leastMinor >= targetMinor) return { head: 'Reached:', rest: `even at its least the total passes the target of ${target}.` }
  if (chance === 0)
    return {
      head: 'Out of reach:',
      rest: `even at their most the lots bring it to ${roundly(mostMinor, currency)}, and the target is ${target}.`,
    }
  return { head: sayChance(chance), rest: `that the target of ${target} is reached.` }
}

/** The forecast in one breath, for those who hear it and those who read. */
export function sayForecast(found: ForecastFrame): string {
  const show = (minor: Minor) => roundly(minor, found.currency)
  if (found.lots.length === 0) return 'Every lot is over: there is nothing left to forecast.'
  return `${show(found.expectedMinor)} expected; with 80 % between ${show(found.lowMinor)} and ${show(found.highMinor)}.`
}

/** No more figures than a forecast deserves: whole units of the currency. */
export function roundly(minor: Minor, currency: Currency): string {
  const unit = 10 ** CURRENCIES[currency].exponent
  return showMoney(Math.round(minor / unit) * unit, currency, { short: true })
}
