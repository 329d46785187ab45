import { z } from 'zod'
import { text } from '#kernel/text'

export const unitCreditsIn = z.strictObject({
  tag: text(20, 'That is too long for a tag.').min(1, 'Write the tag of a unit.'),
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

/** By which an open page learns that its names have changed: the mark of its key in the live topic differs from this one. */
export interface Watched {
  key: string
  mark: string
}

export interface UnitCredits extends PageCredits {
  live: Watched
  unit: string
  /** For the description of a video. */
  text: string
}

export interface LotCredits extends PageCredits {
  number: number
  title: string
  unit: string
  text: string
  live: Watched
}

export interface CampaignCredits {
  campaign: string
  cause: string
  /** Everyone who gave anything that is here. */
  all: PageCredits
  /** Those of them who gave time, postage or money that is tied to no machine. */
  forAll: PageCredits
  lots: LotCredits[]
  text: string
  live: Watched
}

/** Whether names have changed, without naming anybody: marks of "page all", "page lot 7", "stream all", "stream lot 7". */
export interface CreditMarks {
  at: number
  marks: Record<string, string>
}
