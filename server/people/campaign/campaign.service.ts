import { eq } from 'drizzle-orm'
import { campaign } from '#db/schema/index'
import { instantOf, isZone } from '#kernel/civil'
import { DAY, type Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { noteChange, noteChanges } from '../changes/changes.service'
import type { Campaign, CampaignIn } from './campaign.contract'
import { campaignWords } from './campaign-words.rules'

/** The one campaign of this house; null before the maker has set it up. */
export const findCampaign = (sight: Sight): Campaign | null => sight.db.select().from(campaign).get() ?? null

/** The origin of the stream's player, the only one of another house that a page may show in a frame; null where there is none. */
export function playerOrigin(sight: Sight): string | null {
  const { playerUrl = '' } = findCampaign(sight) ?? {}
  return playerUrl === '' ? null : new URL(playerUrl).origin
}

export function getCampaign(sight: Sight): Campaign {
  const found = findCampaign(sight)
  if (!found) throw new Refusal('not-found', 'There is no campaign yet. The maker sets one up at /bench/campaign.')
  return found
}

const LONGEST_STREAM = 3 * DAY

/** A house of before may have a longer one: it is not made longer yet, and everything else of it can be changed. */
function refuseTooLong(opensAt: Instant, closesAt: Instant, before: Campaign | null, field: string): void {
  const length = closesAt - opensAt
  if (length <= Math.max(LONGEST_STREAM, before ? before.streamClosesAt - before.streamOpensAt : 0)) return
  throw Refusal.at(
    field,
    `A stream lasts at most ${LONGEST_STREAM / DAY} days, and this would be ${Math.ceil(length / DAY)}. Check the day. What is left after the stream can be sold at a fixed price once its lot has ended; the stream need not go on for that.`,
  )
}

/** The stream ends later than it was to. */
export function moveStreamEnd(turn: Turn, streamClosesAt: Instant, by: Actor): void {
  const before = getCampaign(turn)
  invariant(streamClosesAt > before.streamClosesAt, 'what was announced moves later only')
  refuseTooLong(before.streamOpensAt, streamClosesAt, before, 'minutes')
  turn.db.update(campaign).set({ streamClosesAt }).where(eq(campaign.id, before.id)).run()
  turn.record({ kind: 'campaign.changed', subject: 'campaign', body: { name: before.name } })
  noteChanges(turn, by, 'campaign', campaignWords(before), campaignWords(getCampaign(turn)))
}

/** Makes the campaign or changes it. The currency stays once money has been named in it. */
export function saveCampaign(
  turn: Turn,
  input: CampaignIn,
  { isDemo = false, by = null }: { isDemo?: boolean; by?: Actor | null } = {},
): Campaign {
  const before = findCampaign(turn)
  if (!isZone(input.zone)) throw Refusal.at('zone', `"${input.zone}" is not a time zone. Write one such as Europe/London.`)
  if (before && before.currency !== input.currency)
    throw Refusal.at('currency', `The currency stays ${before.currency}: prices have been written in it.`)
  const streamOpensAt = instantOf(input.streamOpens, input.zone, 'streamOpens')
  const streamClosesAt = instantOf(input.streamCloses, input.zone, 'streamCloses')
  if (streamClosesAt <= streamOpensAt) throw Refusal.at('streamCloses', 'The stream ends before it begins. Check the day.')
  refuseTooLong(streamOpensAt, streamClosesAt, before, 'streamCloses')
  const [lateWindowSeconds, lateAddsSeconds] = [Number(input.lateWindow ?? 120), Number(input.lateAdds ?? 120)]
  if (lateAddsSeconds < lateWindowSeconds)
    throw Refusal.at(
      'lateAdds',
      `Write at least ${lateWindowSeconds}: anything less than the late-bid time would not move the closing at all.`,
    )
  const row = {
    name: input.name,
    causeName: input.causeName,
    causeRegistration: input.causeRegistration,
    causeShareBp: Math.round(Number(input.causeSharePercent) * 100),
    sellerName: input.sellerName,
    sellerAddress: input.sellerAddress,
    sellerKind: input.sellerKind,
    currency: input.currency,
    zone: input.zone,
    streamOpensAt,
    streamClosesAt,
    targetMinor: parseMoney(input.target, input.currency, 'target'),
    howToPay: input.howToPay,
    cancelWords: input.cancelWords,
    partsAddress: input.partsAddress,
    streamUrl: input.streamUrl ?? '',
    playerUrl: input.playerUrl ?? '',
    lateWindowSeconds,
    lateAddsSeconds,
    isDemo: before?.isDemo ?? isDemo,
  }
  if (before) turn.db.update(campaign).set(row).where(eq(campaign.id, before.id)).run()
  else
    turn.db
      .insert(campaign)
      .values({ id: turn.dice.id(), ...row })
      .run()
  turn.record({ kind: before ? 'campaign.changed' : 'campaign.opened', subject: 'campaign', body: { name: row.name } })
  const now = getCampaign(turn)
  if (before) noteChanges(turn, by, 'campaign', campaignWords(before), campaignWords(now))
  else noteChange(turn, by, { kind: 'campaign', what: 'the campaign', before: '', after: now.name })
  return now
}
