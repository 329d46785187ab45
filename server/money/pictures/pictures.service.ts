import { DateTime } from 'luxon'
import { getUnitRow } from '#bench/units/roster.service'
import { listRuns } from '#bench/units/units.service'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { coverReceipts } from '../journal/covering.rules'
import { readJournal } from '../journal/entries.service'
import { sumOf } from '../journal/lot-account.rules'
import type { MoneyPictures } from './pictures.contract'
import { batchParts, hourParts, machineParts } from './pictures.rules'

/** Where the money came from, by machine and by hour; what each batch cost against what it raised. */
export function readPictures(sight: Sight): MoneyPictures {
  const { currency, zone } = getCampaign(sight)
  const entries = readJournal(sight)
  const { accounts, gifts, matched } = coverReceipts(entries)
  const machines = listLots(sight).map(({ id, number, title, unit, unitId }) => ({
    lotId: id,
    lot: number,
    title,
    unit,
    runId: getUnitRow(sight, unitId).runId,
  }))
  const costs = entries
    .filter(({ kind }) => kind === 'cost' || kind === 'fee')
    .map((entry) => ({
      runId: entry.runId,
      lotId: entry.lotId,
      amountMinor: (['cost-to-seller', 'cost-to-cause', 'cost-of-sending'] as const).reduce((sum, each) => sum + sumOf([entry], each), 0),
    }))
  return {
    currency,
    zone,
    machines: machineParts(accounts, machines, gifts, matched),
    hours: hourParts(entries, (at) => DateTime.fromMillis(at, { zone }).offset * 60_000),
    ...batchParts(listRuns(sight), machines, accounts, costs),
  }
}
