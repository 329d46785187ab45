import type { Instant } from '#kernel/instant'
import { type Minor, MOST_MINOR, showMoney } from '#kernel/money'
import type { RefusalCode } from '#kernel/refusal'
import type { NamedCertificate } from '../lots/lots.contract'
import { isPast, leavesEnough } from '../price/closing.rules'
import { leastNext, leastRaise, priceOf } from '../price/price.rules'
import type { LotFact, LotState } from './replay.rules'

export type LotCommand =
  | {
      kind: 'bid'
      bidder: string
      maximumMinor: Minor
      ceilingMinor: Minor
      sequence: number
      /** An entry that stands already: histories of earlier houses hold raises of less than a step, and they stay true. */
      stands?: boolean
    }
  | { kind: 'extend'; closesAt: Instant; reason: string }
  | { kind: 'hold'; reason: string }
  | { kind: 'resume'; shiftMs: number }
  | { kind: 'outage'; from: Instant; to: Instant; shiftMs: number }
  | { kind: 'void'; bidder: string; reason: string }
  | { kind: 'correct'; words: string; certificate?: NamedCertificate }
  | { kind: 'withdraw'; reason: string }
  | { kind: 'close' }

export type Decision = { yes: true; fact: LotFact } | No
interface No {
  yes: false
  code: RefusalCode
  words: string
  field?: string
}

const no = (code: RefusalCode, words: string, field?: string): No => ({ yes: false, code, words, ...(field && { field }) })
const yes = (fact: LotFact): Decision => ({ yes: true, fact })

/**
 * May this be done to the lot now? The answer is a fact to record or a refusal in words; nothing is changed here. Total:
 * whatever the command and whatever the state, there is an answer. A lot has one end, so nothing is voided after it.
 */
export function decide(state: LotState, command: LotCommand, now: Instant): Decision {
  const closed = whyOver(state, command.kind)
  if (closed) return closed
  const isRunning = state.phase === 'open'
  const isDue = isRunning && state.closesAt !== null && isPast(state.closesAt, now)
  if (command.kind === 'withdraw') return isDue ? tooLate() : yes({ kind: 'withdrawn', at: now, reason: command.reason })
  if (state.phase === 'ready' || state.closesAt === null) return no('too-early', 'This lot is not open yet.')
  switch (command.kind) {
    case 'bid':
      return decideBid(state, command, now)
    case 'extend':
      if (isDue) return tooLate()
      if (command.closesAt <= state.closesAt) return no('bad-input', 'A closing is never moved earlier. Choose a later time.', 'closesAt')
      return yes({ kind: 'extended', at: now, closesAt: command.closesAt, reason: command.reason })
    case 'hold':
      if (!isRunning) return no('conflict', 'This lot is on hold already.')
      return isDue ? tooLate() : yes({ kind: 'held', at: now, reason: command.reason })
    case 'resume':
      if (isRunning) return no('conflict', 'This lot is not on hold: its clock is running.')
      return leavesEnough(state.closesAt, state.heldSince ?? now, now, state.closesAt + command.shiftMs)
        ? yes({ kind: 'resumed', at: now, shiftMs: command.shiftMs })
        : tooShort()
    case 'outage':
      if (!isRunning) return no('conflict', 'This lot is on hold: its clock is already stopped.')
      if (command.from > command.to || command.to !== now) return no('conflict', 'An outage is told once it is over.')
      if (isPast(state.closesAt, command.from)) return tooLate()
      if (!leavesEnough(state.closesAt, command.from, command.to, state.closesAt + command.shiftMs)) return tooShort()
      return yes({ kind: 'outage', at: now, from: command.from, to: command.to, shiftMs: command.shiftMs })
    case 'void':
      return isDue ? tooLate('void') : yes({ kind: 'voided', at: now, bidder: command.bidder, reason: command.reason })
    case 'correct':
      return isDue
        ? tooLate('correct')
        : yes({ kind: 'corrected', at: now, words: command.words, ...(command.certificate && { certificate: command.certificate }) })
    case 'close':
      // The official instant of a closing is the planned one, however late the sweep that says so.
      return isDue ? yes({ kind: 'closed', at: state.closesAt }) : no('too-early', 'This lot is not due to close yet.')
  }
}

function decideBid(state: LotState, bid: Extract<LotCommand, { kind: 'bid' }>, now: Instant): Decision {
  if (state.phase === 'held') return no('on-hold', 'This lot is on hold: its clock is stopped, and it takes no bids until it restarts.')
  if (isPast(state.closesAt ?? 0, now)) return tooLate()
  const { terms } = state
  const { maximumMinor, ceilingMinor, bidder, sequence } = bid
  const show = (amount: Minor) => showMoney(amount, terms.currency)
  if (!Number.isSafeInteger(maximumMinor) || maximumMinor <= 0 || maximumMinor > MOST_MINOR) {
    return no('bad-input', `Write an amount between ${show(terms.openingMinor)} and ${show(ceilingMinor)}.`, 'maximum')
  }
  if (state.leader?.bidder === bidder && maximumMinor <= state.leader.maximumMinor) {
    return no(
      'bad-input',
      `You lead already and allow up to ${show(state.leader.maximumMinor)}. A maximum can be raised, never lowered.`,
      'maximum',
    )
  }
  if (state.leader?.bidder === bidder && !bid.stands && maximumMinor < leastRaise(terms, state.leader.maximumMinor)) {
    return no(
      'bad-input',
      `You lead already and allow up to ${show(state.leader.maximumMinor)}. Raise it by a step at least, to ${show(leastRaise(terms, state.leader.maximumMinor))} or more.`,
      'maximum',
    )
  }
  const least = leastNext(terms, priceOf(terms, state)?.priceMinor ?? null)
  if (state.leader?.bidder !== bidder && maximumMinor < least) {
    return no('bad-input', `Your bid must be at least ${show(least)}.`, 'maximum')
  }
  if (maximumMinor > ceilingMinor) {
    return no('bad-input', `Your paddle may bid up to ${show(ceilingMinor)}. Ask us to raise it.`, 'maximum')
  }
  return yes({ kind: 'bid', at: now, sequence, bidder, maximumMinor })
}

function whyOver({ phase }: LotState, kind: LotCommand['kind']): No | null {
  if (phase === 'sold' || phase === 'unsold') return tooLate(kind)
  return phase === 'withdrawn' ? no('too-late', 'This lot was withdrawn. Nobody can win it.') : null
}

/** Time that nobody could bid in is given back, or a closing would lie in it. */
const tooShort = (): No =>
  no('conflict', 'A clock restarts with the time that was left when it stopped, or with fifteen minutes if that was less.')

function tooLate(kind: LotCommand['kind'] = 'bid'): No {
  if (kind === 'void')
    return no('too-late', 'This lot has closed and its end stands. If its winner falls away, offer it to the next bidder as a new sale.')
  if (kind === 'correct') return no('too-late', 'This lot has ended; its history stays as it is.')
  return no('too-late', 'This lot has closed. No more bids are taken.')
}
