import { listWords } from '#stock/donors/gift.rules'

/** Some lots by their numbers, at the beginning of a sentence: "Lot 3", "Lots 3, 4 and 5". */
export const nameLots = (numbers: readonly number[]): string =>
  numbers.length === 1 ? `Lot ${numbers[0]}` : `Lots ${listWords(numbers.map(String), 'and')}`
