import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { coverReceipts } from '../journal/covering.rules'
import { readJournal } from '../journal/entries.service'
import { sumOf } from '../journal/lot-account.rules'
import { listPromises } from '../matching/matching.service'
import type { ForecastFrame } from './forecast.contract'
import { type Forecast, type ForecastIn, forecast } from './forecast.rules'

/** The latest forecast. Several people watch and ask for the same one, and working it out takes some hundredths of a second. */
let last: { of: string; found: Forecast } | null = null

/** How it may end, from the standing bids and the maker's estimates. What reserves may keep from selling is left out of it. */
export function readForecast(sight: Sight): ForecastFrame {
  const { currency, targetMinor } = getCampaign(sight)
  const input = forecastIn(sight)
  const of = JSON.stringify(input)
  if (last?.of !== of) last = { of, found: forecast(input) }
  return { currency, targetMinor, drafts: input.drafts, ...last.found }
}

function forecastIn(sight: Sight): ForecastIn {
  const campaign = getCampaign(sight)
  const entries = readJournal(sight)
  const { accounts, gifts } = coverReceipts(entries)
  const lots = listLots(sight)
  const toCome = lots.filter(({ state }) => state === 'ready' || state === 'open' || state === 'held')
  return {
    lots: toCome.map(({ number, title, state, standingMinor, openingMinor, lowMinor, likelyMinor, highMinor, causeShareBp }) => ({
      number,
      title,
      isOpen: state !== 'ready',
      standingMinor,
      openingMinor,
      lowMinor,
      likelyMinor,
      highMinor,
      shareBp: causeShareBp,
    })),
    drafts: lots.filter(({ state }) => state === 'draft').map(({ number }) => number),
    shareBp: campaign.causeShareBp,
    targetMinor: campaign.targetMinor,
    lotsFixedMinor: accounts.reduce((sum, { causeMinor }) => sum + causeMinor, 0),
    giftMinor: gifts.receivedMinor,
    promises: listPromises(sight).map(({ id, base, ratioBp, capMinor, endedAt }) => ({
      id,
      base,
      ratioBp,
      capMinor,
      isEnded: endedAt !== null,
      receivedMinor: 0 - sumOf(entries, 'owed-to-cause', ({ promiseId }) => promiseId === id),
    })),
  }
}
