import type { Currency } from '#kernel/money'

export const RELIEF_COUNTRIES = ['GB', 'US'] as const
export type ReliefCountry = (typeof RELIEF_COUNTRIES)[number]

export interface ReliefTable {
  country: ReliefCountry
  name: string
  /** The rules speak of this currency; limits in it say nothing about another. */
  currency: Currency
  /** When the figures below were true, as far as the source says. */
  trueOn: string
  source: string
  /** What has to be so before any of it applies. */
  conditions: string[]
}

/**
 * The rules as tables, each with the day on which it was true. They change: whoever shows an estimate shows
 * the day and the source beside it, and the cause decides.
 */
export const RELIEF_TABLES: Record<ReliefCountry, ReliefTable> = {
  GB: {
    country: 'GB',
    name: 'United Kingdom, Gift Aid',
    currency: 'GBP',
    trueOn: 'guidance as updated in March 2024, benefit limits in force since 6 April 2019',
    source: 'HMRC, detailed guidance on Gift Aid, chapter 3, section 3.4.5 on auctions, and its rules on donor benefits',
    conditions: [
      'The cause must be a charity or club that HMRC recognises for Gift Aid; it decides and it claims.',
      'The payment must go to it, from a person who pays enough tax and has made a declaration.',
      'Charity and buyer keep evidence, such as an exchange of letters, that the price was known beforehand.',
    ],
  },
  US: {
    country: 'US',
    name: 'United States, charitable contribution',
    currency: 'USD',
    trueOn: 'Publication 1771 as quoted in 2013, T.D. 8690 of 1996; section 6115 of the code',
    source: 'IRS, Charity Auctions; IRS Publications 526 and 1771; IRC 6115; Reg. 1.170A-1(h)',
    conditions: [
      'The cause must be an organisation that qualifies for deductible contributions; ask it.',
      'The buyer must be able to show that they knew the value was less than the price, as by an estimate published before bidding.',
    ],
  },
}

/** HMRC, donations on or after 6 April 2019: 25 % of the first 100, 5 % of what is above, at most 2,500. In pence. */
export const GB_BENEFIT = { firstMinor: 10_000, firstBp: 2_500, restBp: 500, mostMinor: 250_000 } as const

/** IRC 6115: a written disclosure for a payment of more than 75 that is partly for goods. Reg. 1.170A-13: an acknowledgment from 250. In cents. */
export const US_LIMITS = { disclosureAboveMinor: 7_500, acknowledgmentFromMinor: 25_000 } as const
