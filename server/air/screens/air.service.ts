import { publicRecord } from '#bench/certificates/public-record.rules'
import { unitRecord } from '#bench/certificates/record.service'
import { currentCertificate } from '#bench/certificates/standing.service'
import { creditsOfUnit } from '#gifts/credits/credits.service'
import { proceeds } from '#money/proceeds/proceeds.service'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { lotsFrame } from '#sale/bidding/frames.service'
import { findHoldOfAll } from '#sale/closings/holds.service'
import { getLotRow } from '#sale/lots/lots.service'
import { publicProgramme } from '#sale/programme/programme.service'
import type { AirFrames, CueSheet, HostFrames } from './air.contract'
import { recordLines } from './record-lines.rules'

/** What every screen on air begins with; null before there is a campaign. */
export function airFrames(sight: Sight): AirFrames | null {
  const campaign = findCampaign(sight)
  if (!campaign) return null
  return { programme: publicProgramme(sight), lots: lotsFrame(sight), meter: proceeds(sight), currency: campaign.currency }
}

/** What the host's screen begins with; null before there is a campaign. */
export function readHost(sight: Sight): HostFrames | null {
  const frames = airFrames(sight)
  return frames && { ...frames, holdOfAll: findHoldOfAll(sight) }
}

export function readCueSheet(sight: Sight, lot: number): CueSheet {
  const row = getLotRow(sight, lot)
  const { names, friends } = creditsOfUnit(sight, row.unitId, 'stream')
  const certificate = currentCertificate(sight, row.unitId)
  return {
    lot,
    story: row.terms?.sale.story ?? row.story,
    record: certificate === null ? [] : recordLines(publicRecord(unitRecord(sight, row.unitTag), true)),
    names: names.map(({ name, sayIt }) => ({ name, sayIt })),
    friends,
  }
}
