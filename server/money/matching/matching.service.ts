import { parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import type { LotCard } from '#sale/lots/lots.contract'
import { listLots } from '#sale/lots/lots.service'
import { getDonor } from '#stock/donors/donor.service'
import { readJournal } from '../journal/entries.service'
import type { Written } from '../journal/entry.contract'
import { giftPostings } from '../journal/journal.rules'
import { writeEntry } from '../journal/journal.service'
import { onPaper } from '../journal/typed.service'
import type { EndPromiseIn, MatchReceivedIn, PromiseIn, PromiseLine } from './matching.contract'
import { type Matched, type MatchFacts, matchAll, matchRatio } from './matching.rules'
import * as store from './matching.store'

/** Somebody promises to add so much to each pound that is counted, up to a cap. */
export function promiseMatch(turn: Turn, actor: Actor, input: PromiseIn): { promiseId: string } {
  return once(turn, input.key, input, () => {
    const ratioBp = matchRatio(input.ratioPercent)
    if (ratioBp === null) throw Refusal.at('ratioPercent', 'Write what is added to each 100 that is counted, from 0.01 to 10000.')
    const capMinor = parseMoney(input.cap, getCampaign(turn).currency, 'cap')
    if (capMinor === 0) throw Refusal.at('cap', 'Write the most that will be added, above zero.')
    if (input.donorId) getDonor(turn, input.donorId)
    const promiseId = turn.dice.id()
    const { from: fromName, base } = input
    const row = { id: promiseId, fromName, donorId: input.donorId ?? null, base, ratioBp, capMinor }
    store.insertPromise(turn.db, {
      ...row,
      at: turn.now,
      byPersonId: actor.personId,
      endedAt: null,
      endedWhy: '',
      campaignNumber: campaignNumber(turn),
    })
    turn.record({ kind: 'money.match-promised', subject: 'money', body: { promise: promiseId, capMinor, ratioBp } })
    return { promiseId }
  })
}

/** Nothing more becomes due by it; what came in stays. */
export function endPromise(turn: Turn, _actor: Actor, input: EndPromiseIn): { promiseId: string } {
  const found = getPromise(turn, input.promiseId)
  if (found.endedAt !== null) throw Refusal.at('promiseId', 'That promise has already been ended.', 'conflict')
  store.endPromise(turn.db, found.id, turn.now, input.why)
  turn.record({ kind: 'money.match-ended', subject: 'money', body: { promise: found.id } })
  return { promiseId: found.id }
}

/** The matcher sent money. It may come before it is earned, but never past the cap that was promised. */
export function receiveMatch(turn: Turn, actor: Actor, input: MatchReceivedIn): Written {
  return once(turn, input.key, input, () => {
    const { amountMinor, ...paper } = onPaper(turn, actor, input)
    const promise = getPromise(turn, input.promiseId)
    const leftMinor = promise.capMinor - (matchedNow(turn).find(({ promiseId }) => promiseId === promise.id)?.paidMinor ?? 0)
    if (amountMinor > leftMinor) {
      const left = showMoney(leftMinor, getCampaign(turn).currency)
      throw Refusal.at('amount', `Only ${left} of that promise is left. Record the rest as a gift of money.`)
    }
    const entryId = writeEntry(turn, {
      ...paper,
      kind: 'matched',
      postings: giftPostings(amountMinor),
      memo: `Matched giving from ${promise.fromName}`,
      donorId: promise.donorId,
      promiseId: promise.id,
    })
    return { entryId }
  })
}

/** Every promise that was made, ended or not, in the order of making. */
export const listPromises = (sight: Sight): store.PromiseRow[] => store.listPromises(sight.db, campaignNumber(sight))

/** What the promises hang on, at this moment. */
export function matchFacts(sight: Sight, lots: readonly LotCard[] = listLots(sight)): MatchFacts {
  return {
    lots: lots.map((lot) => ({
      isOpen: lot.state === 'open' || lot.state === 'held',
      standingMinor: lot.standingMinor,
      reserve: lot.reserve,
      shareBp: lot.causeShareBp,
    })),
    entries: readJournal(sight),
    promises: listPromises(sight).map(({ endedAt, ...row }) => ({ ...row, isEnded: endedAt !== null })),
    shareBp: getCampaign(sight).causeShareBp,
  }
}

/** What each promise of matched giving comes to at this moment. */
export const matchedNow = (sight: Sight): Matched[] => matchAll(matchFacts(sight))

/** Each promise, with what it comes to at this moment. */
export function readPromises(sight: Sight): PromiseLine[] {
  const matched = new Map(matchedNow(sight).map((each) => [each.promiseId, each]))
  return listPromises(sight).flatMap((row): PromiseLine[] => {
    const now = matched.get(row.id)
    if (!now) return []
    const { id, fromName, base, ratioBp, capMinor, endedAt, endedWhy } = row
    const { bidMinor, wonMinor, paidMinor, dueMinor, isCapped } = now
    return [
      { id, from: fromName, base, ratioBp, capMinor, endedAt, endedWhy, bidMinor, wonMinor, receivedMinor: paidMinor, dueMinor, isCapped },
    ]
  })
}

function getPromise(sight: Sight, id: string): store.PromiseRow {
  const found = store.findPromise(sight.db, id)
  if (!found) throw Refusal.at('promiseId', 'There is no such promise. Reload the page.', 'not-found')
  return found
}
