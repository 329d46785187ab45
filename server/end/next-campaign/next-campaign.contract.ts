import { z } from 'zod'
import type { PublicCard } from '#floor/lot-page/lot-page.service'
import type { CampaignCredits } from '#gifts/credits/credits.contract'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'
import type { Meter } from '#money/proceeds/proceeds.contract'
import { campaignIn } from '#people/campaign/campaign.contract'
import type { LotFrame } from '#sale/bidding/bidding.contract'

/** What a campaign is called in addresses once it is over. */
const slug = text(60, 'Use at most 60 characters here.')
  .transform((typed) => typed.trim().toLowerCase())
  .pipe(
    z
      .string()
      .regex(
        /^[a-z0-9]+(-[a-z0-9]+)*$/,
        'Write it in small letters, digits and single hyphens, such as spring-2027: it becomes part of an address.',
      ),
  )

/** The form of the next campaign, with the name in addresses of the one that ends. */
export const beginNextIn = campaignIn.extend({
  slug,
  /** The number of the campaign that it ends, so that a second press ends no other. */
  ends: z.int('Reload the page.').positive('Reload the page.'),
})
export type BeginNextIn = z.input<typeof beginNextIn>

/** Goes to work in an earlier campaign, or back to the present one with an empty name. */
export const workInIn = z.strictObject({ slug: text(60, 'There was no such campaign here.') })

/** The page of an earlier campaign, by its name in addresses. */
export const earlierIn = z.strictObject({ campaign: text(60, 'There was no such campaign here.').min(1, 'Say which campaign.') })
export type WorkIn = z.output<typeof workInIn>

/** What would go along into the next campaign, and what stands in its way. */
export interface NextView {
  /** The number of the campaign that ends. */
  ends: number
  /** The name in addresses that is proposed for the campaign that ends. */
  slug: string
  /** In words, each with what to do; empty when the next can begin. */
  inTheWay: string[]
  /** Lots that were never open: they go along as drafts. */
  drafts: { number: number; title: string }[]
  /** Machines that nobody has, whose lot has ended. */
  machines: string[]
  designs: number
  instruments: number
  /** Batches of parts of which there are some left. */
  batches: number
  staff: number
  /** Donors and bidders who can be asked by email. */
  donors: number
  bidders: number
}

/** An earlier campaign, or the present one, in a line. */
export interface CampaignLine {
  name: string
  slug: string
  streamOpensAt: Instant
  zone: string
  endedAt: Instant | null
  /** Of an earlier one: sold lots that are not paid, and such as have not arrived. */
  unpaid: number
  notArrived: number
  /** The staff who ask are at work in it. */
  isHere: boolean
}

/** The public page of an earlier campaign. */
export interface EarlierView {
  name: string
  causeName: string
  causeShareBp: number
  sellerName: string
  streamOpensAt: Instant
  streamClosesAt: Instant
  endedAt: Instant
  zone: string
  meter: Meter
  cards: PublicCard[]
  frames: LotFrame[]
  credits: CampaignCredits | null
  /** What goes on: the present campaign. */
  present: string
}
