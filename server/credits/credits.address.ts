import { type Address, json } from '../web/address'
import { readCredits } from './credits.service'

export const creditsAddresses: Address[] = [
  {
    path: '/credits.json',
    answer: (sight) => {
      const credits = readCredits(sight)
      if (!credits) return null
      const { all, lots, text } = credits
      return json({
        names: all.names,
        friends: all.friends,
        lots: lots.map(({ number, title, unit, names, friends }) => ({
          number,
          title,
          unit,
          names,
          friends,
          links: { lot: `/lots/${number}`, record: `/units/${unit}` },
        })),
        text,
      })
    },
  },
]
