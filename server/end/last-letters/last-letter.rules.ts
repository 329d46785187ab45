import { type Outcome, outcomeWords, raisedBy } from '#gifts/outcome/outcome.rules'
import type { Minor } from '#kernel/money'
import type { Draft } from '#stock/donors/letters.rules'

/** What a campaign came to, in the words of its letters. */
export interface CampaignTold {
  campaign: string
  cause: string
  /** What counts for the cause, all in all. */
  raised: string
  ownPage: string
}

/** A letter about everything that one donor gave, and what became of it. It says what the lots raised, and never what a gift is worth. */
export function draftLastLetter(
  told: CampaignTold & { name: string; outcomes: readonly Outcome[]; money: (minor: Minor) => string },
): Draft {
  const { name, campaign, cause, raised, outcomes, money, ownPage } = told
  const several = outcomes.length > 1
  const lines = outcomes.map((outcome) => (several ? `- ${outcomeWords(outcome, money)}` : outcomeWords(outcome, money)))
  const all = raisedBy(outcomes)
  const together =
    several && all && all.lots > 1 ? `\n\nAltogether, ${all.lots} lots with your gifts in them raised ${money(all.minor)}.` : ''
  const forCause = cause === '' ? '' : ` for ${cause}`
  return {
    subject: `${campaign}: what became of your ${several ? 'gifts' : 'gift'}`,
    body: `Dear ${name},\n\n${campaign} is over. It raised ${raised}${forCause}, and this is what became of what you gave:\n\n${lines.join('\n')}${together}\n\nYour own page tells you more and lets you say whether we may name you. Ask for its link with this email address: ${ownPage}\n\nThank you.`,
  }
}

export interface DonorToTell {
  isStandIn: boolean
  approved: boolean
  contact: string
  /** How many gifts of theirs came. */
  gifts: number
  /** The day of their last letter; null when none was sent. */
  toldAt: string | null
  /** Whether something of theirs has sold and earlier letters told them of all of it. */
  knowsAll: boolean
}

/** Why a donor gets no last letter; null for one who gets it. Nobody is told twice. */
export function whyNone({ isStandIn, approved, contact, gifts, toldAt, knowsAll }: DonorToTell): string | null {
  if (toldAt !== null) return `Told on ${toldAt}.`
  if (gifts === 0) return 'Nothing from them has arrived.'
  if (isStandIn) return 'Nobody knows who this was.'
  if (!approved) return 'Promised online and not approved yet.'
  if (knowsAll) return 'Already told, when what they gave was sold.'
  if (contact === '') return 'We have no email address. Thank them in person, and note it on the donor’s page.'
  return null
}
