import { HOUR, type Instant } from '#kernel/instant'
import { listWords } from '#stock/donors/gift.rules'
import { counted, type Draft } from '#stock/donors/letters.rules'

/** Thanks are due when something came; after this long they are overdue. */
export const THANKS_WITHIN = 48 * HOUR

export interface ThanksDue {
  arrivedAt: Instant
}

export const isOverdue = ({ arrivedAt }: ThanksDue, now: Instant): boolean => now - arrivedAt > THANKS_WITHIN

/** What became of one gift so far, as counted: for the thanks, and for whoever asks later. */
export interface Became {
  what: string
  quantity: number
  fitted: { tag: string; count: number }[]
  inHand: number
  bad: number
  quarantined: boolean
  minutes: number | null
}

/** "Your 20 crystals: 14 fitted in TERN-01, -02 and -05, 4 kept, 2 failed." */
export function becameWords({ what, quantity, fitted, inHand, bad, quarantined, minutes }: Became): string {
  if (minutes !== null) return `${minutes % 60 === 0 ? `${minutes / 60} h` : `${minutes} min`} of help: ${what}.`
  const inUnits = fitted.reduce((sum, row) => sum + row.count, 0)
  const parts = [
    inUnits > 0 ? `${inUnits} fitted in ${shortTags(fitted.map((row) => row.tag))}` : '',
    inHand > 0 ? `${inHand} in hand` : '',
    bad > 0 ? `${bad} failed` : '',
    quarantined ? 'the rest set aside because something about it is in doubt' : '',
  ].filter(Boolean)
  return `${counted(quantity, what)}${parts.length > 0 ? `: ${parts.join(', ')}` : ''}.`
}

/** "TERN-01, -02 and -05": the prefix is said once while it stays the same. */
export function shortTags(tags: readonly string[]): string {
  let prefix = ''
  const short = tags.map((tag) => {
    const [, head = '', number = ''] = /^(.*)(-[^-]*)$/.exec(tag) ?? []
    const words = head !== '' && head === prefix ? number : tag
    prefix = head
    return words
  })
  return listWords(short, 'and')
}

export function draftThanks(told: { name: string; campaign: string; gifts: readonly Became[] }): Draft {
  const gifts = told.gifts.map((gift) => `- ${becameWords(gift)}`).join('\n')
  return {
    subject: `${told.campaign}: thank you`,
    body: `Dear ${told.name},\n\nThank you. This is what arrived, and where it is now:\n\n${gifts}\n\nWe will write again when a machine with your gift in it has been sold.`,
  }
}
