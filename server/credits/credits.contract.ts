import { z } from 'zod'

export const unitCreditsIn = z.strictObject({
  tag: z.string().trim().min(1, 'Write the tag of a unit.').max(20, 'That is too long for a tag.'),
})

export const lotCreditsIn = z.strictObject({ number: z.int('Write the number of a lot.').positive('Write the number of a lot.') })

/** Who is named on the page at this moment: by name, no ids, no gifts, no values. */
export interface PageCredits {
  names: string[]
  /** How many are listed as "a friend". */
  friends: number
  /** "Ines Abreu, Tomas Berg and a friend"; empty when nobody is named. */
  line: string
}

export interface LotCredits extends PageCredits {
  number: number
  title: string
  unit: string
}

export interface CampaignCredits {
  all: PageCredits
  lots: LotCredits[]
  /** For the description of a video. */
  text: string
}
