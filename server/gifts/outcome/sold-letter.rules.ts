import type { Minor } from '#kernel/money'
import type { Draft } from '#stock/donors/letters.rules'
import { type Outcome, outcomeWords, raisedBy } from './outcome.rules'

/** A lot of which a donor was told a price that stands no longer. */
export interface ToldOtherwise {
  lot: number
  toldMinor: Minor
  /** What it comes to now; nought where its sale fell through. */
  comesMinor: Minor
}

/** "We told you that lot 7 raised £50.00. That sale fell through, so it has raised nothing so far." */
function putRightWords({ lot, toldMinor, comesMinor }: ToldOtherwise, money: (minor: Minor) => string): string {
  if (toldMinor === 0)
    return `We told you that the sale of lot ${lot} had fallen through. It was sold after all, and raised ${money(comesMinor)}.`
  const told = `We told you that lot ${lot} raised ${money(toldMinor)}.`
  return comesMinor === 0
    ? `${told} That sale fell through later, so the lot has raised nothing.`
    : `${told} The price was changed later, and the lot has raised ${money(comesMinor)}.`
}

interface Told {
  name: string
  campaign: string
  cause: string
  money: (minor: Minor) => string
  ownPage: string
  /** What an earlier letter said and is so no longer. */
  changed: readonly ToldOtherwise[]
}

/** A letter that puts an earlier one right and says nothing else. */
export function draftPutRight({ name, campaign, money, ownPage, changed }: Told): Draft {
  const lines = changed.map((one) => putRightWords(one, money))
  return {
    subject: `${campaign}: a correction to what we told you`,
    body: `Dear ${name},\n\n${lines.join('\n\n')}\n\nWhat became of your gifts, as it stands today, is on your own page. Ask for its link with this email address: ${ownPage}\n\nThank you.`,
  }
}

/** The second thanks, from the facts. What is told is what the lots raised, never what a gift is worth. */
export function draftSoldThanks(told: Told & { outcomes: readonly Outcome[] }): Draft {
  const { outcomes, money } = told
  const all = raisedBy(outcomes)
  const several = outcomes.length > 1
  const lines = outcomes.map((outcome) => (several ? `- ${outcomeWords(outcome, money)}` : outcomeWords(outcome, money)))
  const together =
    several && all && all.lots > 1 ? `\n\nAltogether, ${all.lots} lots with your gifts in them raised ${money(all.minor)}.` : ''
  const corrected = told.changed.map((one) => `\n\n${putRightWords(one, money)}`).join('')
  const cause = told.cause === '' ? '' : ` for ${told.cause}`
  return {
    subject: `${told.campaign}: what became of your ${several ? 'gifts' : 'gift'}`,
    body: `Dear ${told.name},\n\nWhat you gave has been sold${cause}, as part of something whole.\n\n${lines.join('\n')}${together}${corrected}\n\nYour own page tells you more and lets you say whether we may name you. Ask for its link with this email address: ${told.ownPage}\n\nThank you.`,
  }
}
