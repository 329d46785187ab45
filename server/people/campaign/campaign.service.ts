import { eq } from 'drizzle-orm'
import { campaign } from '#db/schema/index'
import { instantOf, isZone } from '#kernel/civil'
import { parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { noteChange, noteChanges } from '../changes/changes.service'
import type { Campaign, CampaignIn } from './campaign.contract'
import { campaignWords } from './campaign-words.rules'
import { refuseBeyond, refuseSpan } from './stream-days.rules'
import { listFurther } from './stream-days.store'

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
  // A house of before may have a longer one: it is not made longer yet, and everything else of it can be changed.
  const longest = before ? before.streamClosesAt - before.streamOpensAt : 0
  refuseSpan({ opensAt: streamOpensAt, closesAt: streamClosesAt }, 'streamCloses', longest)
  const [next] = before ? listFurther(turn.db, before.id) : []
  if (next) refuseBeyond(next, streamClosesAt, input.zone, 'streamCloses')
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
