import { compareHistories, compareWithShown, type NamedHistory } from '#sale/history/compare.rules'
import type { Finding } from './finding'

const COMPARED = {
  same: { tone: 'ok', title: 'The two histories are the same' },
  beginning: { tone: 'ok', title: 'One history is the beginning of the other' },
  contradiction: { tone: 'bad', title: 'The two histories contradict each other' },
  'taken-back': { tone: 'bad', title: 'The house has taken back entries' },
  'another-lot': { tone: 'doubt', title: 'The two histories are of two lots' },
} as const

/** Two histories of one lot, in words. */
export function comparedHistories(one: NamedHistory, other: NamedHistory): Finding {
  const { is, words } = compareHistories(one, other)
  return { ...COMPARED[is], about: `${one.name}, ${other.name}`, words }
}

/** A history that somebody kept and the one that is shown now, in words. */
export function comparedWithShown(kept: NamedHistory, shown: NamedHistory): Finding {
  const { is, words } = compareWithShown(kept, shown)
  return { ...COMPARED[is], about: kept.name, words }
}

/** Every pair: two that contradict each other may both agree with a third, which is the beginning of both. */
export const comparedAll = (histories: readonly NamedHistory[]): Finding[] =>
  histories.flatMap((one, index) => histories.slice(index + 1).map((other) => comparedHistories(one, other)))
