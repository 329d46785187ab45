import { findStandingHold } from '../bidding/closings.service'
import { lotsFrame } from '../bidding/frames.service'
import { findCampaign } from '../campaign/campaign.service'
import { publicRecord } from '../certificates/public-record.rules'
import { currentCertificate } from '../certificates/standing.service'
import { creditsOfUnit } from '../credits/credits.service'
import { getLotRow } from '../lots/lots.service'
import { proceeds } from '../money/proceeds.service'
import { publicProgramme } from '../programme/programme.service'
import type { Sight } from '../runtime/turn'
import { unitRecord } from '../units/record.service'
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
  return frames && { ...frames, standingHold: findStandingHold(sight) }
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
