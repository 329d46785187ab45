import { civilOf } from '#kernel/civil'
import { HOUR } from '#kernel/instant'
import type { CampaignIn } from '#people/campaign/campaign.contract'
import { saveCampaign } from '#people/campaign/campaign.service'
import type { Stage } from '#test/stage'

export const campaignForm = (now: number, change: Partial<CampaignIn> = {}): CampaignIn => ({
  name: 'Long Bench Day',
  causeName: 'Ferry Lane Repair School',
  causeRegistration: 'FL-2041',
  causeSharePercent: '100',
  sellerName: 'Long Bench workshop',
  sellerAddress: '4 Slip Road, Ferry Lane',
  sellerKind: 'private',
  currency: 'GBP',
  zone: 'Europe/London',
  streamOpens: civilOf(now - 4 * HOUR, 'Europe/London'),
  streamCloses: civilOf(now + 8 * HOUR, 'Europe/London'),
  target: '3000',
  howToPay: 'By bank transfer with the reference on the invoice.',
  cancelWords: 'Write to the seller within 14 days of receiving it; local rules may give you more.',
  partsAddress: 'Long Bench, 4 Slip Road, Ferry Lane',
  ...change,
})

/** A campaign whose stream opened four hours before the stage's now and goes on for eight more. */
export const makeCampaign = (stage: Stage, change: Partial<CampaignIn> = {}) =>
  stage.command((turn) => saveCampaign(turn, campaignForm(turn.now, change)))
