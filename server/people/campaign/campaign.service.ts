import { eq, isNull } from 'drizzle-orm'
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

/** The campaign that is looked at, the present one unless another was asked for; null before the maker has set one up. */
export const findCampaign = ({ db, campaign: number }: Sight): Campaign | null =>
  db
    .select()
    .from(campaign)
    .where(number === undefined ? isNull(campaign.endedAt) : eq(campaign.number, number))
    .get() ?? null

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

/** The campaign that is looked at, where something new is to be planned in it. Refused for one that is over. */
export function getRunning(sight: Sight, field: string): Campaign {
  const found = getCampaign(sight)
  if (found.endedAt !== null)
    throw Refusal.at(field, `${found.name} is over. Go back to the present campaign, on the campaign page, and do it there.`, 'conflict')
  return found
}

/** Makes the campaign or changes it. The currency stays once money has been named in it. */
export function saveCampaign(
  turn: Turn,
  input: CampaignIn,
  { isDemo = false, by = null }: { isDemo?: boolean; by?: Actor | null } = {},
): Campaign {
  const before = findCampaign(turn)
  if (before?.endedAt) throw Refusal.at('name', `${before.name} is over, and what it said stays as it was.`, 'conflict')
  const row = { ...readForm(turn, input, before), isDemo: before?.isDemo ?? isDemo }
  if (before) turn.db.update(campaign).set(row).where(eq(campaign.id, before.id)).run()
  else insertCampaign(turn, row)
  turn.record({ kind: before ? 'campaign.changed' : 'campaign.opened', subject: 'campaign', body: { name: row.name } })
  const now = getCampaign(turn)
  if (before) noteChanges(turn, by, 'campaign', campaignWords(before), campaignWords(now))
  else noteChange(turn, by, { kind: 'campaign', what: 'the campaign', before: '', after: now.name })
  return now
}

/** Ends the present campaign, which answers at `slug` from now on, and begins the next of the house. Answers the number of the next. */
export function followCampaign(turn: Turn, input: CampaignIn, slug: string, by: Actor): number {
  const before = getCampaign(turn)
  const row = { ...readForm(turn, input, before, 'of the house'), isDemo: before.isDemo }
  turn.db.update(campaign).set({ endedAt: turn.now, slug }).where(eq(campaign.id, before.id)).run()
  const number = before.number + 1
  insertCampaign(turn, { ...row, number, begunAt: turn.now })
  turn.record({ kind: 'campaign.ended', subject: 'campaign', body: { name: before.name, slug } })
  turn.record({ kind: 'campaign.opened', subject: 'campaign', body: { name: row.name } })
  noteChange(turn, by, { kind: 'campaign', what: 'the campaign', before: before.name, after: row.name })
  return number
}

const insertCampaign = (turn: Turn, row: Omit<typeof campaign.$inferInsert, 'id'>): void =>
  void turn.db
    .insert(campaign)
    .values({ id: turn.dice.id(), ...row })
    .run()

/** What the form says, checked. A campaign `of the house` is another than `before`, but of the same currency. */
function readForm({ db }: Pick<Sight, 'db'>, input: CampaignIn, before: Campaign | null, is?: 'of the house') {
  if (!isZone(input.zone)) throw Refusal.at('zone', `"${input.zone}" is not a time zone. Write one such as Europe/London.`)
  if (before && before.currency !== input.currency)
    throw Refusal.at(
      'currency',
      is === 'of the house'
        ? `The currency stays ${before.currency}: the books of all campaigns of a house are kept in one.`
        : `The currency stays ${before.currency}: prices have been written in it.`,
    )
  const streamOpensAt = instantOf(input.streamOpens, input.zone, 'streamOpens')
  const streamClosesAt = instantOf(input.streamCloses, input.zone, 'streamCloses')
  // A house of before may have a longer one: it is not made longer yet, and everything else of it can be changed.
  const changed = is === 'of the house' ? null : before
  const longest = changed ? changed.streamClosesAt - changed.streamOpensAt : 0
  refuseSpan({ opensAt: streamOpensAt, closesAt: streamClosesAt }, 'streamCloses', longest)
  const [next] = changed ? listFurther(db, changed.id) : []
  if (next) refuseBeyond(next, streamClosesAt, input.zone, 'streamCloses')
  const [lateWindowSeconds, lateAddsSeconds] = [Number(input.lateWindow ?? 120), Number(input.lateAdds ?? 120)]
  if (lateAddsSeconds < lateWindowSeconds)
    throw Refusal.at(
      'lateAdds',
      `Write at least ${lateWindowSeconds}: anything less than the late-bid time would not move the closing at all.`,
    )
  return {
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
  }
}
