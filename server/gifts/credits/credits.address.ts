import { Refusal } from '#kernel/refusal'
import { type Address, type Answer, bytes, json } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import type { LotCredits, PageCredits } from './credits.contract'
import { readCredits, readLotCredits, readUnitCredits } from './credits.service'

const text = (words: string): Answer => bytes('text/plain; charset=utf-8', words)

/** What is not there is answered with 404, as everywhere. */
const orNull = (read: () => Answer): Answer | null => {
  try {
    return read()
  } catch (reason) {
    if (reason instanceof Refusal) return null
    throw reason
  }
}

const named = ({ names, friends, line }: PageCredits) => ({ names, friends, line })
const ofLot = ({ number, title, unit, ...credits }: LotCredits) => ({
  number,
  title,
  unit,
  ...named(credits),
  links: { lot: `/lots/${number}`, record: `/units/${unit}`, credits: `/credits/lots/${number}` },
})
const lotOf = (sight: Sight, number = ''): LotCredits => readLotCredits(sight, /^\d{1,6}$/.test(number) ? Number(number) : 0)

export const creditsAddresses: Address[] = [
  {
    path: '/credits.json',
    answer: (sight) => {
      const credits = readCredits(sight)
      if (!credits) return null
      const { campaign, cause, all, forAll, lots, text: words } = credits
      return json({ campaign, cause, ...named(all), forAll: named(forAll), lots: lots.map(ofLot), text: words })
    },
  },
  {
    path: '/credits.txt',
    answer: (sight) => {
      const credits = readCredits(sight)
      return credits && text(credits.text)
    },
  },
  { path: '/credits/lots/:number.json', answer: (sight, { number }) => orNull(() => json(ofLot(lotOf(sight, number)))) },
  { path: '/credits/lots/:number.txt', answer: (sight, { number }) => orNull(() => text(lotOf(sight, number).text)) },
  {
    path: '/credits/units/:tag.json',
    answer: (sight, { tag = '' }) =>
      orNull(() => {
        const credits = readUnitCredits(sight, tag)
        return json({ unit: credits.unit, ...named(credits), links: { record: `/units/${credits.unit}` } })
      }),
  },
  { path: '/credits/units/:tag.txt', answer: (sight, { tag = '' }) => orNull(() => text(readUnitCredits(sight, tag).text)) },
]
