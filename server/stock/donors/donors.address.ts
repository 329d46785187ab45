import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Address, printed } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { getDonor } from './donor.service'
import type { DonorCardOrder } from './donor-card-paper'
import { giftsOf } from './gift.service'

export const donorsAddresses: Address[] = [
  {
    path: '/bench/donors/:id/card.pdf',
    audience: ['maker', 'volunteer'],
    answer: (sight, { id = '' }) => printed(donorCard(sight, id), 'thank-you.pdf'),
  },
]

function donorCard(sight: Sight, id: string): DonorCardOrder {
  const donor = getDonor(sight, id)
  if (!donor.consents.card || donor.anonymity !== 'named' || !donor.approved)
    throw new Refusal(
      'gate-closed',
      'This donor has not agreed to be named on a printed card, which cannot be recalled, so no card is printed.',
    )
  const gifts = giftsOf(sight, id).filter(({ kind, state }) => kind !== 'money' && state !== 'declined')
  const campaign = getCampaign(sight)
  return {
    of: 'donor-card',
    name: donor.creditName || donor.name,
    campaign: campaign.name,
    gifts: gifts.slice(0, 12).map(({ what, state }) => `${what}: ${state}`),
    size: 'a4',
    author: campaign.sellerName,
    at: Math.max(0, ...gifts.map(({ at }) => at)),
  }
}
