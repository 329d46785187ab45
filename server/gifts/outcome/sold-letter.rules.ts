import type { Minor } from '#kernel/money'
import type { Draft } from '#stock/donors/letters.rules'
import { type Outcome, outcomeWords, raisedBy } from './outcome.rules'

/** The second thanks, from the facts. What is told is what the lots raised, never what a gift is worth. */
export function draftSoldThanks(told: {
  name: string
  campaign: string
  cause: string
  outcomes: readonly Outcome[]
  money: (minor: Minor) => string
  ownPage: string
}): Draft {
  const { outcomes, money } = told
  const all = raisedBy(outcomes)
  const several = outcomes.length > 1
  const lines = outcomes.map((outcome) => (several ? `- ${outcomeWords(outcome, money)}` : outcomeWords(outcome, money)))
  const together =
    several && all && all.lots > 1 ? `\n\nAltogether, ${all.lots} lots with your gifts in them raised ${money(all.minor)}.` : ''
  const cause = told.cause === '' ? '' : ` for ${told.cause}`
  return {
    subject: `${told.campaign}: what became of your ${several ? 'gifts' : 'gift'}`,
    body: `Dear ${told.name},\n\nWhat you gave has been sold${cause}, as part of something whole.\n\n${lines.join('\n')}${together}\n\nYour own page tells you more and lets you say whether we may name you. Ask for its link with this email address: ${told.ownPage}\n\nThank you.`,
  }
}
