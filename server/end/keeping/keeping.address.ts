import { DateTime } from 'luxon'
import { findCampaign } from '#people/campaign/campaign.service'
import { type Address, bytes, printed } from '#runtime/call/address'
import type { Actor, Sight } from '#runtime/queue/turn'
import { shortHead } from '#sale/bidding/checkpoint.rules'
import { accountSheet, readAccount } from './account.service'
import { statementOrder } from './statement-words.rules'

/** The books are for these two; for the rest of the staff there is no such thing. */
const mayRead = (sight: Sight, actor: Actor | null | undefined): boolean =>
  findCampaign(sight) !== null && (actor?.role === 'maker' || actor?.role === 'treasurer')

export const keepingAddresses: Address[] = [
  {
    path: '/bench/keeping/statement.pdf',
    audience: 'staff',
    answer(sight, _params, query, actor) {
      if (!mayRead(sight, actor)) return null
      const account = readAccount(sight)
      const drawnOn = DateTime.fromMillis(account.drawnAt, { zone: account.zone }).toFormat('d LLLL yyyy, HH:mm ZZZZ')
      const headDigits = account.head.digest === '' ? 'empty' : shortHead(account.head.digest)
      const size = query.get('paper') === 'letter' ? 'letter' : 'a4'
      return printed(statementOrder(account, { drawnOn, headDigits, size }), 'statement.pdf')
    },
  },
  {
    path: '/bench/keeping/statement.csv',
    audience: 'staff',
    answer(sight, _params, _query, actor) {
      if (!mayRead(sight, actor)) return null
      const { type, text, fileName } = accountSheet(sight)
      return bytes(type, text, fileName)
    },
  },
]
