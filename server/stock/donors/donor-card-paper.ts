import type { SheetOrder } from '#paper/order'
import { makePaper } from '#paper/paper'

/** A card for a donor who agreed to one: what became of the gifts, and no value of anything. */
export interface DonorCardOrder extends SheetOrder {
  of: 'donor-card'
  name: string
  campaign: string
  gifts: readonly string[]
}

declare module '#paper/order' {
  interface Papers {
    'donor-card': DonorCardOrder
  }
}

export function setDonorCard({ name, campaign, gifts, author, at }: DonorCardOrder): Promise<Buffer> {
  return makePaper({ title: `Thanks to ${name}`, author, date: new Date(at), size: 'a6', margin: 24, identity: campaign }, (paper) => {
    paper.text('H1', [{ text: `Thank you, ${name}`, face: 'bold' }], { size: 18, leading: 24, after: 8 })
    paper.text('P', [{ text: 'What you gave, and how it stands:' }], { after: 4 })
    for (const gift of gifts) paper.text('P', [{ text: `· ${gift}` }], { after: 2 })
    paper.text('P', [{ text: `It is part of ${campaign}.` }])
  })
}
