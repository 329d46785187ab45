import { asc, desc, eq, isNull } from 'drizzle-orm'
import { preparedFor } from '#db/prepared'
import { campaign } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { Campaign } from './campaign.contract'

// A house holds one campaign after another. Whoever reads or changes something of a campaign does it in the one that is looked
// at: the present one, or an earlier one that was asked for. What is no campaign's own (parts, designs, people) asks nothing here.

export interface Span {
  from: Instant
  /** The first instant that is no longer in it. */
  to: Instant
}

const queries = preparedFor((db) => ({
  present: db.$client.prepare<[], { number: number; begunAt: Instant | null }>(
    'SELECT number, begun_at AS begunAt FROM campaign WHERE ended_at IS NULL',
  ),
  many: db.$client.prepare<[], { many: number }>('SELECT count(*) AS many FROM campaign'),
}))

/** The number of the first campaign; before it is set up, what belongs to one belongs to that. */
const FIRST = 1

export const presentNumber = (sight: Pick<Sight, 'db'>): number => queries(sight.db).present.get()?.number ?? FIRST

/** When the present campaign followed another; nought for the first of the house. Asked before every bid. */
export const presentSince = (sight: Pick<Sight, 'db'>): Instant => queries(sight.db).present.get()?.begunAt ?? 0

/** The number of the campaign that is looked at. */
export const campaignNumber = (sight: Pick<Sight, 'db' | 'campaign'>): number => sight.campaign ?? presentNumber(sight)

/** Whether there were campaigns before the present one. */
export const hasEarlier = ({ db }: Pick<Sight, 'db'>): boolean => (queries(db).many.get()?.many ?? 0) > 1

/** The same house, looked at in the campaign of this number. */
export const inCampaign = <Seen extends Sight>(sight: Seen, number: number): Seen => ({ ...sight, campaign: number })

/** From here on a turn is about the campaign of this number, and so is what follows from it. */
export function lookAtCampaign(turn: Turn, number: number): void {
  turn.campaign = number
}

/** From when to when the campaign that is looked at was the present one: the first since ever, the present one until further notice. */
export function spanOf({ db, campaign: number }: Pick<Sight, 'db' | 'campaign'>): Span {
  const found = db
    .select({ from: campaign.begunAt, to: campaign.endedAt })
    .from(campaign)
    .where(number === undefined ? isNull(campaign.endedAt) : eq(campaign.number, number))
    .get()
  return { from: found?.from ?? 0, to: found?.to ?? Number.MAX_SAFE_INTEGER }
}

/** Every campaign of the house, the present one first. */
export const listCampaigns = ({ db }: Pick<Sight, 'db'>): Campaign[] => db.select().from(campaign).orderBy(desc(campaign.number)).all()

/** An earlier campaign by what it is called in an address. */
export const findEarlier = ({ db }: Pick<Sight, 'db'>, slug: string): Campaign | null =>
  slug === '' ? null : (db.select().from(campaign).where(eq(campaign.slug, slug)).get() ?? null)

/** What `read` finds in each campaign, the first of them first; once, as it is, where there was only one. */
export function inEveryCampaign<Found>(sight: Sight, read: (sight: Sight) => readonly Found[]): Found[] {
  if (!hasEarlier(sight)) return [...read(sight)]
  return numbers(sight).flatMap((number) => [...read(inCampaign(sight, number))])
}

/** Does in a turn what is to be done in each campaign. */
export function forEveryCampaign(turn: Turn, work: (turn: Turn) => void): void {
  const before = turn.campaign
  for (const number of numbers(turn)) {
    turn.campaign = number
    work(turn)
  }
  turn.campaign = before
}

const numbers = ({ db }: Pick<Sight, 'db'>): number[] =>
  db
    .select({ number: campaign.number })
    .from(campaign)
    .orderBy(asc(campaign.number))
    .all()
    .map(({ number }) => number)
