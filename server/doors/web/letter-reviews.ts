import { reviewReminder } from '#money/invoices/reminders.service'
import type { Reviewed } from '#people/outbox/outbox.service'
import type { Turn } from '#runtime/queue/turn'
import { reviewNotices } from '#sale/letters/notices.service'

/** Whether a letter still says what is so, asked of each room that writes letters which may wait. One line for each. */
const REVIEWS: readonly ((turn: Turn, letterId: string) => Reviewed)[] = [reviewNotices, reviewReminder]

/** What a letter says right before it goes. It is one room's alone, and to all others it is as it is. */
export function reviewLetter(turn: Turn, letterId: string): Reviewed {
  for (const review of REVIEWS) {
    const said = review(turn, letterId)
    if (said !== 'as it is') return said
  }
  return 'as it is'
}
