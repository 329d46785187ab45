import { Refusal } from '#kernel/refusal'
import type { Turn } from '#runtime/queue/turn'
import type { DonorCard } from './donor.service'
import type { Draft } from './letters.rules'

/** A letter to a donor as the staff have it before them. Refuses at the form's fields. */
export function postLetter(turn: Turn, donor: DonorCard, { subject, body }: Draft): void {
  if (donor.contact === '') throw Refusal.at('body', `We have no email address for ${donor.name}. Thank them by hand and note it.`)
  if (subject === '') throw Refusal.at('subject', 'Write a subject.')
  if (body === '') throw Refusal.at('body', 'Write the letter.')
  turn.post({ to: donor.contact, subject, body })
}
