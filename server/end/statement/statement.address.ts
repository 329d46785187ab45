import { DateTime } from 'luxon'
import { findCampaign } from '#people/campaign/campaign.service'
import { type Address, type Answer, bytes, printed, sheetAsked } from '#runtime/call/address'
import type { Actor, Sight } from '#runtime/queue/turn'
import { shortHead } from '#sale/history/short-head.rules'
import { accountSheet, readAccount } from './account.service'
import { statementOrder } from './statement-words.rules'

/** The statement is for the maker and the treasurer; for the rest of the staff it does not exist. */
const mayRead = (sight: Sight, actor: Actor | null | undefined): boolean =>
  findCampaign(sight) !== null && (actor?.role === 'maker' || actor?.role === 'treasurer')

function paper(sight: Sight, query: URLSearchParams): Answer {
  const account = readAccount(sight)
  const drawnOn = DateTime.fromMillis(account.drawnAt, { zone: account.zone }).toFormat('d LLLL yyyy, HH:mm ZZZZ')
  const headDigits = account.head.digest === '' ? 'empty' : shortHead(account.head.digest)
  const size = sheetAsked(query)
  return printed(statementOrder(account, { drawnOn, headDigits, size }), 'statement.pdf')
}

function sheet(sight: Sight): Answer {
  const { type, text, fileName } = accountSheet(sight)
  return bytes(type, text, fileName)
}

/** The second place is where the statement stood at first: what was printed or kept as a bookmark still finds it there. */
const PLACES = ['/bench/close-out', '/bench/keeping']

export const statementAddresses: Address[] = PLACES.flatMap((place): Address[] => [
  {
    path: `${place}/statement.pdf`,
    audience: 'staff',
    answer: (sight, _params, query, actor) => (mayRead(sight, actor) ? paper(sight, query) : null),
  },
  {
    path: `${place}/statement.csv`,
    audience: 'staff',
    answer: (sight, _params, _query, actor) => (mayRead(sight, actor) ? sheet(sight) : null),
  },
])
