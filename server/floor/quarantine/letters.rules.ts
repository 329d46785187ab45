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

Please switch it off, unplug it, and do not use it until you hear from us. Do not open it. We will write to you with what we have found and what we can do: check it, mend it, or take it back.

We are sorry for the trouble. Just reply to this email if you have any questions.`,
})

export const buyerAllClear = ({ campaign, name, reason, part, unit }: Told & { unit: string }): Draft => ({
  subject: `${campaign}: ${unit} may be used again`,
  body: `Dear ${name},

We asked you to set ${unit} aside because of its parts: ${part}. The suspicion has turned out to be unfounded: ${reason}

You may use it again. Thank you for your patience.`,
})

export const donorLetter = ({ campaign, name, reason, part }: Told): Draft => ({
  subject: `${campaign}: about the parts you gave`,
  body: `Dear ${name},

Thank you once again for your gift. We look at everything before we build with it, and some of what was in it gave us pause: ${part}. What we saw: ${reason}

You could not have known this, and we are just as grateful: such parts find their way into the best of drawers. We are keeping them apart and will not use them. None of this is on any public page, and your name is in no notice about it.

If you remember where they came from, please drop us a line; it would help others too.`,
})

export const donorAllClear = ({ campaign, name, reason, part }: Told): Draft => ({
  subject: `${campaign}: the parts you gave are sound`,
  body: `Dear ${name},

We wrote to tell you that we had set some of your parts aside: ${part}. They have turned out to be sound: ${reason}

They will be used after all. Thank you again.`,
})
