/** The letter that asks whether somebody wants to be kept. */
export function keepLetter(said: {
  name: string
  /** "your gifts were part of", "you bid in" */
  part: string
  earlier: string
  campaign: string
  cause: string
  link: string
  /** "Friday 12 March 2027" */
  answerBy: string
}): { subject: string; body: string } {
  const { name, part, earlier, campaign, cause, link, answerBy } = said
  const forCause = cause === '' ? '' : `, in aid of ${cause}`
  return {
    subject: `May we keep your address for ${campaign}?`,
    body: `Dear ${name},

${part} ${earlier}, which is over. We have begun ${campaign}${forCause}.

May we keep your name and your email address for it? Please say yes or no here:

${link}

If we hear nothing from you by ${answerBy}, your email address is deleted here on that day and you will hear nothing more from us. What you agreed to be named for stays as you agreed, and what the books must keep of a purchase stays in them.

Thank you for what you did.`,
  }
}
