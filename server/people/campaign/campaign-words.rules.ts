import { civilOf } from '#kernel/civil'
import { showMoney } from '#kernel/money'
import type { Campaign } from './campaign.contract'

const SELLERS: Record<Campaign['sellerKind'], string> = {
  '': '',
  private: 'a private person',
  trader: 'a trader',
  charity: 'the charity itself',
}

const dayAndTime = (at: number, zone: string): string => `${civilOf(at, zone).replace('T', ' ')} (${zone})`

/** What a campaign says, by what each part of it is called in a sentence. */
export const campaignWords = (campaign: Campaign): Record<string, string> => ({
  'the name of the campaign': campaign.name,
  'the cause': campaign.causeName,
  'the registration of the cause': campaign.causeRegistration,
  'the share that goes to the cause': `${campaign.causeShareBp / 100} %`,
  'the name of the seller': campaign.sellerName,
  'the address of the seller': campaign.sellerAddress,
  'what the seller is': SELLERS[campaign.sellerKind],
  'when the stream begins': dayAndTime(campaign.streamOpensAt, campaign.zone),
  'when the stream ends': dayAndTime(campaign.streamClosesAt, campaign.zone),
  'the address of the stream': campaign.streamUrl,
  'the player of the stream': campaign.playerUrl,
  'the target': showMoney(campaign.targetMinor, campaign.currency),
  'how buyers pay': campaign.howToPay,
  'how a buyer cancels': campaign.cancelWords,
  'where parts are sent': campaign.partsAddress,
  'when a bid is late': `in the last ${campaign.lateWindowSeconds} seconds`,
  'what a late bid adds': `the closing moves to ${campaign.lateAddsSeconds} seconds after it`,
})
