import { sayWhen } from '#app/_ui/when.rules.ts'
import { type Instant, SECOND } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import type { BidAnswer } from '#sale/bids/bids.contract'

/** What has just happened to a lot that its reader must hear of at once. */
export interface News {
  isOutbid: boolean
  /** By what the closing moved: a late bid, or the house; null where it did not. */
  extended: 'late-bid' | 'house' | null
  /** What makes the words about the closing untrue: another bid, or a while later. */
  bids: number
  until: Instant
}

/** The title under which being outbid is told; what stands beside it need not say it again. */
export const OUTBID = 'You were outbid'

/** How long it is news. */
const EXTENDED_STAYS = 30 * SECOND

/** What is to be said once `frame` has come after `was`; news that is true no longer is gone, whatever brought it. */
export function newsAfter(news: News | null, was: LotFrame, frame: LotFrame, alias: string | null): News | null {
  if (frame.state !== 'open') return null
  const isMine = alias !== null && frame.leaderAlias === alias
  const isVoided = alias !== null && frame.voidedAliases.includes(alias)
  const wasMine = alias !== null && was.leaderAlias === alias
  const isOutbid = !isMine && !isVoided && frame.leaderAlias !== null && (wasMine || news?.isOutbid === true)
  // Whoever has just taken the lead knows of their own bid.
  const extended = isMine && !wasMine ? null : extensionIn(news, was, frame)
  if (!isOutbid && extended === null) return null
  const isNew = frame.extendedTimes > was.extendedTimes
  return { isOutbid, extended, bids: frame.bids, until: isNew || !news ? frame.serverNow + EXTENDED_STAYS : news.until }
}

function extensionIn(news: News | null, was: LotFrame, frame: LotFrame): News['extended'] {
  if (frame.closesAt === null) return null
  if (frame.extendedTimes > was.extendedTimes) {
    const isLateBid = frame.bids > was.bids && frame.closesAt - frame.serverNow <= frame.lateBid.addsMs
    return isLateBid ? 'late-bid' : 'house'
  }
  return news && news.bids === frame.bids && frame.serverNow < news.until ? news.extended : null
}

/** The news in words, by the lot as it is now; null once there is nothing left of it. */
export function sayNews(news: News | null, frame: LotFrame, now: Instant, zone: string): { title: string; words: string } | null {
  if (!news || frame.state !== 'open' || frame.closesAt === null) return null
  const moved =
    news.extended === null || now >= news.until
      ? ''
      : news.extended === 'late-bid'
        ? 'A late bid moved the closing.'
        : `It closes at ${sayWhen(frame.closesAt, zone, 'time')} now.`
  if (news.isOutbid && frame.standingMinor !== null) {
    const price = showMoney(frame.standingMinor, frame.currency, { short: true })
    return { title: OUTBID, words: `Alias ${frame.leaderAlias} leads at ${price}. ${moved}`.trim() }
  }
  return moved === '' ? null : { title: 'Extended', words: moved }
}

/** What stands over a bid that was taken, by the lot as it is now; null once the next bid has made it untrue. */
export function sayTaken(answer: BidAnswer, frame: LotFrame): { leads: boolean; title: string } | null {
  const isSeen = frame.ledgerSize >= answer.receipt.size
  const leads = isSeen ? frame.leaderAlias === answer.alias : answer.leads
  const priceMinor = isSeen ? frame.standingMinor : answer.standingMinor
  if (frame.voidedAliases.includes(answer.alias) || priceMinor === null) return null
  const price = showMoney(priceMinor, frame.currency, { short: true })
  if (answer.leads) return leads ? { leads, title: `Taken. You lead at ${price}` } : null
  return leads || priceMinor !== answer.standingMinor ? null : { leads, title: `Taken, but outbid at once: the price is ${price}` }
}
