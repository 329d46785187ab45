/** Letters about a suspect batch. The one to its giver is kind, and says nothing that anybody else is told. */
export interface Draft {
  subject: string
  body: string
}

export interface Told {
  campaign: string
  name: string
  reason: string
  part: string
}

export const buyerLetter = ({ campaign, name, reason, part, unit }: Told & { unit: string }): Draft => ({
  subject: `${campaign}: please set ${unit} aside`,
  body: `Dear ${name},

${unit}, which you bought, holds parts that we no longer trust: ${part}. What we suspect: ${reason}

Please switch it off, unplug it, and do not use it until you hear from us. Do not open it. We will write to you with what we have found and what we can do: look at it, mend it, or take it back.

We are sorry for the trouble. Just reply to this email if you have a question.`,
})

export const buyerAllClear = ({ campaign, name, reason, part, unit }: Told & { unit: string }): Draft => ({
  subject: `${campaign}: ${unit} may be used again`,
  body: `Dear ${name},

we asked you to set ${unit} aside because of its parts: ${part}. The suspicion has turned out to be unfounded: ${reason}

You may use it again. Thank you for your patience.`,
})

export const donorLetter = ({ campaign, name, reason, part }: Told): Draft => ({
  subject: `${campaign}: about the parts you gave`,
  body: `Dear ${name},

thank you once more for your gift. We look at everything before we build with it, and some of what came with it made us pause: ${part}. What we saw: ${reason}

This is nothing that you could have known, and it changes nothing about our thanks: such parts find their way into the best drawers. We keep them apart and will not use them. Nothing of this stands on any public page, and your name is in no notice about it.

If you remember where they came from, a line to us would help others too.`,
})

export const donorAllClear = ({ campaign, name, reason, part }: Told): Draft => ({
  subject: `${campaign}: the parts you gave are sound`,
  body: `Dear ${name},

we wrote to you that we had set some of your parts aside: ${part}. They have turned out to be sound: ${reason}

They will be used after all. Thank you, once more.`,
})
