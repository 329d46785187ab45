import { findStandingHold } from '../bidding/closings.service'
import { lotsFrame } from '../bidding/frames.service'
import { findCampaign } from '../campaign/campaign.service'
import { publicRecord } from '../certificates/public-record.rules'
import { currentCertificate } from '../certificates/standing.service'
import { creditsOfCampaign, creditsOfUnit } from '../credits/credits.service'
import { Refusal } from '../kernel/refusal'
import { getLotRow } from '../lots/lots.service'
import { proceeds } from '../money/proceeds.service'
import { publicProgramme } from '../programme/programme.service'
import type { Sight } from '../runtime/turn'
import { unitRecord } from '../units/record.service'
import type { AirFrames, CueSheet, HostFrames, OverlayOpened, RollingCredits } from './air.contract'
import { isOverlayKey, overlayKeyMadeAt } from './overlay-key.service'
import { recordLines } from './record-lines.rules'

function airFrames(sight: Sight): AirFrames | null {
  const campaign = findCampaign(sight)
  if (!campaign) return null
  return { programme: publicProgramme(sight), lots: lotsFrame(sight), meter: proceeds(sight), currency: campaign.currency }
}

/** What the host's screen begins with; null before there is a campaign. */
export function readHost(sight: Sight): HostFrames | null {
  const frames = airFrames(sight)
  return frames && { ...frames, standingHold: findStandingHold(sight), overlayKeyMadeAt: overlayKeyMadeAt(sight) }
}

/** What an overlay begins with: closed without the present key, and it says no more than that. */
export function readOverlay(sight: Sight, key: string): OverlayOpened {
  return isOverlayKey(sight, key) ? { isOpen: true, frames: airFrames(sight) } : { isOpen: false }
}

/** Who is named on stream for a lot at this moment; nobody who has not agreed to it. */
export function readOverlayNames(sight: Sight, key: string, lot: number): string[] {
  if (!isOverlayKey(sight, key)) throw new Refusal('not-yours-to-do', 'This overlay opens with its key. The host’s screen makes a new one.')
  return creditsOfUnit(sight, getLotRow(sight, lot).unitId, 'stream').names.map(({ name }) => name)
}

/** Everyone who agreed to be named on stream, by name, for the list that rolls at the end of the day. */
export function readRollingCredits(sight: Sight, key: string): RollingCredits {
  if (!isOverlayKey(sight, key)) throw new Refusal('not-yours-to-do', 'This overlay opens with its key. The host’s screen makes a new one.')
  const { names, friends } = creditsOfCampaign(sight, 'stream')
  return { campaign: findCampaign(sight)?.name ?? '', names: names.map(({ name }) => name), friends }
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
