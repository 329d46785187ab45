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
import { dayOf } from './receive.service'
import { typedAmount } from './sold.service'

/** Money was spent: for a lot, for a batch of machines, or for all of it. */
export function recordCost(turn: Turn, actor: Actor, input: CostIn): Written {
  return once(turn, input.key, input, () => {
    const amountMinor = typedAmount(turn, input.amount)
    if (input.bearer === 'cause') refuseBeyondHeld(turn, amountMinor)
    const runId = input.runId ? input.runId : null
    if (runId !== null && !listRuns(turn).some(({ id }) => id === runId))
      throw Refusal.at('runId', 'There is no such batch of machines. Reload the page.', 'not-found')
    const entryId = writeEntry(turn, {
      kind: 'cost',
      postings: costPostings(amountMinor, input.bearer, input.paidFrom),
      memo: `Cost: ${input.what}`,
      reference: input.reference ?? '',
      valueOn: dayOf(turn, input.on),
      byPersonId: actor.personId,
      about: input.about,
      ...forWhat(turn, input.lot),
      runId,
    })
    return { entryId }
  })
}

/** What a provider of payments, or a bank, kept for itself. */
export function recordFee(turn: Turn, actor: Actor, input: FeeIn): Written {
  return once(turn, input.key, input, () => {
    const amountMinor = typedAmount(turn, input.amount)
    if (input.bearer === 'cause') refuseBeyondHeld(turn, amountMinor)
    const entryId = writeEntry(turn, {
      kind: 'fee',
      postings: costPostings(amountMinor, input.bearer, 'bank'),
      memo: `Fee of ${input.to}`,
      reference: input.reference ?? '',
      valueOn: dayOf(turn, input.on),
      byPersonId: actor.personId,
      about: 'other',
      ...forWhat(turn, input.lot),
    })
    return { entryId }
  })
}

/** Money was sent on to the cause: never more than has come in for it. */
export function recordRemittance(turn: Turn, actor: Actor, input: RemittanceIn): Written {
  return once(turn, input.key, input, () => {
    const amountMinor = typedAmount(turn, input.amount)
    refuseBeyondHeld(turn, amountMinor)
    const entryId = writeEntry(turn, {
      kind: 'remittance',
      postings: remittancePostings(amountMinor),
      memo: 'Sent on to the cause',
      reference: input.reference ?? '',
      valueOn: dayOf(turn, input.on),
      byPersonId: actor.personId,
    })
    return { entryId }
  })
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
    const amountMinor = typedAmount(turn, input.amount)
    const promise = getPromise(turn, input.promiseId)
    const leftMinor = promise.capMinor - (matchedNow(turn).find(({ promiseId }) => promiseId === promise.id)?.paidMinor ?? 0)
    if (amountMinor > leftMinor) {
      const left = showMoney(leftMinor, getCampaign(turn).currency)
      throw Refusal.at('amount', `Only ${left} of that promise is left. Record the rest as a gift of money.`)
    }
    const entryId = writeEntry(turn, {
      kind: 'matched',
      postings: giftPostings(amountMinor),
      memo: `Matched giving from ${promise.fromName}`,
      reference: input.reference ?? '',
      valueOn: dayOf(turn, input.on),
      donorId: promise.donorId,
      byPersonId: actor.personId,
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
