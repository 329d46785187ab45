import { isPass } from '#bench/units/verdict.rules'
import { pictureOf } from '#floor/record/picture.rules'
import { recordOf } from '#floor/record/record.service'
import { creditsOfCampaign, creditsOfUnit } from '#gifts/credits/credits.service'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { findHoldOfAll } from '#sale/closings/holds.service'
import { extrasOf, getLotRow, listPublicLots } from '#sale/lots/lots.service'
import { readAudience } from '#sale/programme/programme.service'
import { airFrames } from './air.service'
import type { LotOnAir, OverlayDesk, OverlayFrames, OverlayOpened, OverlayState, RollingCredits } from './overlay.contract'
import { findOverlayKey, maySeeOverlays, overlayKeyMadeAt, refuseWithoutKey } from './overlay-key.service'

export const overlayState = (sight: Sight): OverlayState => ({
  keyMadeAt: overlayKeyMadeAt(sight),
  hold: findHoldOfAll(sight),
})

function overlayFrames(sight: Sight): OverlayFrames | null {
  const frames = airFrames(sight)
  const campaign = findCampaign(sight)
  if (!frames || !campaign) return null
  const { name, causeName, causeRegistration, causeShareBp } = campaign
  const cause = { name: causeName, registration: causeRegistration, shareBp: causeShareBp }
  return { ...frames, campaign: name, cause, publicUrl: sight.publicUrl, state: overlayState(sight) }
}

/** What an overlay begins with: closed without the present key, and it says no more than that. */
export function readOverlay(sight: Sight, input: { key: string }, actor: Actor | null): OverlayOpened {
  return maySeeOverlays(sight, input, actor) ? { isOpen: true, frames: overlayFrames(sight) } : { isOpen: false }
}

/** The staff's page of all overlays. */
export function readOverlayDesk(sight: Sight): OverlayDesk {
  const frames = overlayFrames(sight)
  const zones = readAudience(sight).map(({ zone }) => zone)
  return {
    frames,
    key: findOverlayKey(sight),
    keyMadeAt: overlayKeyMadeAt(sight),
    zones: zones.filter((zone) => zone !== frames?.programme.zone),
    photograph: photographBehind(sight),
  }
}

/** What lies behind the previews: the machine that closes next, as the stream would show it, or any other. */
function photographBehind(sight: Sight): string | null {
  const lots = listPublicLots(sight).filter(({ photograph }) => photograph !== null)
  const [next] = lots
    .filter(({ state, closesAt }) => state === 'open' && closesAt !== null)
    .sort((a, b) => (a.closesAt ?? 0) - (b.closesAt ?? 0))
  return (next ?? lots[0])?.photograph?.sha ?? null
}

/** Who is named on stream for a lot at this moment; nobody who has not agreed to it. */
export function readOverlayNames(sight: Sight, input: { key: string; lot: number }, actor: Actor | null): RollingCredits {
  refuseWithoutKey(sight, input, actor)
  const { names, friends } = creditsOfUnit(sight, getLotRow(sight, input.lot).unitId, 'stream')
  return { campaign: findCampaign(sight)?.name ?? '', names: names.map(({ name }) => name), friends }
}

/** Everyone who agreed to be named on stream, by name, for the list that rolls at the end of the day. */
export function readRollingCredits(sight: Sight, input: { key: string }, actor: Actor | null): RollingCredits {
  refuseWithoutKey(sight, input, actor)
  const { names, friends } = creditsOfCampaign(sight, 'stream')
  return { campaign: findCampaign(sight)?.name ?? '', names: names.map(({ name }) => name), friends }
}

/** What stands on a lot's card. A draft is nobody's business yet. */
export function readLotOnAir(sight: Sight, input: { key: string; lot: number }, actor: Actor | null): LotOnAir | null {
  refuseWithoutKey(sight, input, actor)
  const row = getLotRow(sight, input.lot)
  if (row.state === 'draft') return null
  const view = recordOf(sight, { tag: row.unitTag })
  const { gauges } = pictureOf(view, getCampaign(sight))
  return {
    lot: row.number,
    sentence: view.record.sentence,
    gauges: gauges.filter(({ verdict }) => isPass(verdict)),
    extras: extrasOf(sight, row),
    serial: view.standing?.serial ?? null,
  }
}
