import { findCampaign } from '#people/campaign/campaign.service'
import type { Address } from '#runtime/call/address'
import { findShownLot } from '#sale/lots/lots.service'
import { publicProgramme } from '#sale/programme/programme.service'
import { programmePictureOf } from './telling.rules'
import { lotPicture } from './telling.service'

/** A picture of a link is asked for by whoever shows it, and kept there far longer than this. */
const KEEP_PICTURE = 60

/** Pictures that stand beside a link. */
export const tellingAddresses: Address[] = [
  {
    path: '/programme.png',
    answer: (sight) => {
      const campaign = findCampaign(sight)
      if (!campaign) return null
      const print = programmePictureOf(publicProgramme(sight), campaign.causeName)
      return { type: 'image/png', body: { print }, keepSeconds: KEEP_PICTURE }
    },
  },
  {
    path: '/lots/:number/card.png',
    answer: (sight, { number = '' }) => {
      const lot = findShownLot(sight, number)
      return lot && { type: 'image/png', body: { print: lotPicture(sight, lot) }, keepSeconds: KEEP_PICTURE }
    },
  },
]
