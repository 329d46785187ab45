import { type Address, json } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { findLot } from '../lots/lots.service'
import { historyForReaders } from './history.service'

const found = (sight: Sight, number = '') => (/^[1-9]\d{0,8}$/.test(number) ? findLot(sight, Number(number)) : null)

export const biddingAddresses: Address[] = [
  {
    path: '/lots/:number/history.json',
    answer: (sight, { number }) => {
      const lot = found(sight, number)
      return lot && lot.ledgerSize > 0 ? json(historyForReaders(sight, lot.number)) : null
    },
  },
]
