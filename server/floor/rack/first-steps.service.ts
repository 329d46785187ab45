import { listCertificates } from '#bench/certificates/standing.service'
import { listDesigns } from '#bench/designs/designs.service'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { listGates } from '#sale/lots/prepare.service'
import { listBatches } from '#stock/shelf/batch.service'
import type { FirstStep } from './first-steps.contract'
import { firstSteps } from './first-steps.rules'
import type { RackRun } from './rack.contract'

/** The way of a new house to its first open lot; null once a lot has been opened. */
export function readFirstSteps(sight: Sight, rack: readonly RackRun[]): FirstStep[] | null {
  if (listLots(sight).some(({ state }) => state !== 'draft' && state !== 'ready')) return null
  const units = rack.flatMap((run) => run.units)
  const [lot = null] = listGates(sight).sort((one, other) => one.missing.length - other.missing.length)
  const [furthest] = units.filter((unit) => unit.lot === null).sort((one, other) => other.reached - one.reached)
  return firstSteps({
    hasCampaign: findCampaign(sight) !== null,
    designs: listDesigns(sight),
    units: units.length,
    batches: listBatches(sight).length,
    atBench: furthest?.tag ?? null,
    certificates: listCertificates(sight).length,
    lot: lot && { number: lot.lot, missing: lot.missing },
  })
}
