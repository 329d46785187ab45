import { listRuns } from '#bench/units/units.service'
import { parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { getDonor } from '#stock/donors/donor.service'
import { costPostings, giftPostings, remittancePostings } from './journal.rules'
import { writeEntry } from './journal.service'
import { matchRatio } from './matching.rules'
import type { CostIn, EndPromiseIn, FeeIn, MatchReceivedIn, PromiseIn, RemittanceIn, Written } from './money.contract'
import * as store from './money.store'
import { heldForCause } from './proceeds.rules'
import { matchedNow } from './proceeds.service'
import { type OnPaper, onPaper } from './typed.service'

export const recordCost = (turn: Turn, actor: Actor, input: CostIn): Written =>
  once(turn, input.key, input, () => {
    const { what, about, bearer, paidFrom, lot, runId } = input
    return bookCost(turn, { ...onPaper(turn, actor, input), what, about, bearer, paidFrom, lot, runId })
  })

type Cost = OnPaper & Pick<CostIn, 'what' | 'about' | 'bearer' | 'paidFrom' | 'lot' | 'runId'>

/** Money was spent: for a lot, for a batch of machines, or for all of it. For other rooms too, inside their own turn. */
export function bookCost(turn: Turn, { amountMinor, what, about, bearer, paidFrom, lot, runId, ...paper }: Cost): Written {
  if (bearer === 'cause') refuseBeyondHeld(turn, amountMinor)
  if (runId && !listRuns(turn).some(({ id }) => id === runId))
    throw Refusal.at('runId', 'There is no such batch of machines. Reload the page.', 'not-found')
  const entryId = writeEntry(turn, {
    ...paper,
    kind: 'cost',
    postings: costPostings(amountMinor, bearer, paidFrom),
    memo: `Cost: ${what}`,
    about,
    ...forWhat(turn, lot),
    runId: runId || null,
  })
  return { entryId }
}

export const recordFee = (turn: Turn, actor: Actor, input: FeeIn): Written =>
  once(turn, input.key, input, () => {
    const { to, bearer, lot } = input
    return bookFee(turn, { ...onPaper(turn, actor, input), to, bearer, lot })
  })

type Fee = OnPaper & Pick<FeeIn, 'to' | 'bearer' | 'lot'>

/** What a provider of payments, or a bank, kept for itself. For other rooms too, inside their own turn. */
export function bookFee(turn: Turn, { amountMinor, to, bearer, lot, ...paper }: Fee): Written {
  if (bearer === 'cause') refuseBeyondHeld(turn, amountMinor)
  const entryId = writeEntry(turn, {
    ...paper,
    kind: 'fee',
    postings: costPostings(amountMinor, bearer, 'bank'),
    memo: `Fee of ${to}`,
    about: 'other',
    ...forWhat(turn, lot),
  })
  return { entryId }
}

export const recordRemittance = (turn: Turn, actor: Actor, input: RemittanceIn): Written =>
  once(turn, input.key, input, () => bookRemittance(turn, onPaper(turn, actor, input)))

/** Money was sent on to the cause: never more than has come in for it. For other rooms too, inside their own turn. */
export function bookRemittance(turn: Turn, { amountMinor, ...paper }: OnPaper): Written {
  refuseBeyondHeld(turn, amountMinor)
  const postings = remittancePostings(amountMinor)
  return { entryId: writeEntry(turn, { ...paper, kind: 'remittance', postings, memo: 'Sent on to the cause' }) }
}

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
    store.insertPromise(turn.db, { ...row, at: turn.now, byPersonId: actor.personId, endedAt: null, endedWhy: '' })
    turn.record({ kind: 'money.match-promised', subject: 'money', body: { promise: promiseId, capMinor, ratioBp } })
    return { promiseId }
  })
}

/** Nothing more becomes due by it; what came in stays. */
export function endPromise(turn: Turn, _actor: Actor, input: EndPromiseIn): { promiseId: string } {
  const found = getPromise(turn, input.promiseId)
  if (found.endedAt !== null) throw Refusal.at('promiseId', 'That promise was ended already.', 'conflict')
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

function getPromise(sight: Sight, id: string): store.PromiseRow {
  const found = store.findPromise(sight.db, id)
  if (!found) throw Refusal.at('promiseId', 'There is no such promise. Reload the page.', 'not-found')
  return found
}

function forWhat(sight: Sight, number: number | undefined): { lotId?: string; lotNumber?: number } {
  if (number === undefined) return {}
  const lot = listLots(sight).find((each) => each.number === number)
  if (!lot) throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  return { lotId: lot.id, lotNumber: lot.number }
}

function refuseBeyondHeld(sight: Sight, amountMinor: number): void {
  const held = Math.max(0, heldForCause(store.readJournal(sight.db)))
  if (amountMinor <= held) return
  throw Refusal.at('amount', `Only ${showMoney(held, getCampaign(sight).currency)} has come in for the cause and is not yet sent on.`)
}
