import { findLot } from '../lots/lots.service'
import { type Address, json } from '../web/address'
import { readHistory } from './history.service'

export const biddingAddresses: Address[] = [
  {
    path: '/lots/:number/history.json',
    answer: (sight, { number = '' }) => {
      const wanted = /^[1-9]\d{0,8}$/.test(number) ? Number(number) : 0
      const found = findLot(sight, wanted)
      return found && found.ledgerSize > 0 ? json(readHistory(sight, wanted)) : null
    },
  },
]
