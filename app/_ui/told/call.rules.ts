import { clockLeft } from '#app/_ui/countdown.rules.ts'
import type { Instant } from '#kernel/instant'
import type { LotFrame } from '#sale/bidding/bidding.contract'

type Clock = Pick<LotFrame, 'state' | 'closesAt' | 'lateBid' | 'leaderAlias' | 'voidedAliases' | 'extendedTimes'>

const isOutbid = ({ state, leaderAlias, voidedAliases }: Clock, alias: string | null): boolean =>
  state === 'open' && alias !== null && leaderAlias !== null && leaderAlias !== alias && !voidedAliases.includes(alias)

const isLastMinutes = ({ state, closesAt, lateBid }: Clock, now: Instant): boolean =>
  state === 'open' && closesAt !== null && closesAt > now && closesAt - now <= lateBid.windowMs

/** What a tab says before the title of its page: that its reader was outbid, and the time in the last minutes; empty otherwise. */
export function titleMark(frame: Clock, alias: string | null, now: Instant): string {
  const left = isLastMinutes(frame, now) ? clockLeft((frame.closesAt ?? now) - now) : ''
  return [isOutbid(frame, alias) ? 'Outbid' : '', left].filter(Boolean).join(', ')
}

/** Whether something has happened between two looks that a reader wants to hear: outbid, the last minutes begin, or they begin again. */
export function calls(was: { frame: Clock; now: Instant }, is: { frame: Clock; now: Instant }, alias: string | null): boolean {
  if (isOutbid(is.frame, alias) && !isOutbid(was.frame, alias)) return true
  if (is.frame.extendedTimes > was.frame.extendedTimes && is.frame.state === 'open') return true
  return isLastMinutes(is.frame, is.now) && !isLastMinutes(was.frame, was.now)
}
