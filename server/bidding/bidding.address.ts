import { findLot } from '../lots/lots.service'
import type { Sight } from '../runtime/turn'
import { type Address, bytes, json } from '../web/address'
import { closingCalendar } from './closing-calendar'
import { readHistory } from './history.service'
import { houseName } from './ledger.service'

const found = (sight: Sight, number = '') => (/^[1-9]\d{0,8}$/.test(number) ? findLot(sight, Number(number)) : null)

export const biddingAddresses: Address[] = [
  {
    path: '/lots/:number/history.json',
    answer: (sight, { number }) => {
      const lot = found(sight, number)
      return lot && lot.ledgerSize > 0 ? json(readHistory(sight, lot.number)) : null
    },
  },
  {
    path: '/lots/:number/closing.ics',
    answer: (sight, { number }) => {
      const lot = found(sight, number)
      if (!lot || lot.state === 'draft' || (lot.closesAt === null && lot.endedAt === null)) return null
      const text = closingCalendar(lot, houseName(sight.publicUrl), sight.publicUrl, sight.now)
      return bytes('text/calendar; charset=utf-8', text, `lot-${lot.number}.ics`)
    },
  },
]
