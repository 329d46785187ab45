import { countOpenFaults } from '#bench/faults/faults.service'
import { listThanksDue } from '#gifts/outcome/thanks.service'
import type { Role } from '#kernel/role'
import { readBooks } from '#money/books/books.service'
import { findCampaign } from '#people/campaign/campaign.service'
import { readOutbox } from '#people/outbox/outbox.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { lotsWithVoidsWaiting } from '#sale/bidding/voids.service'
import { listDonors } from '#stock/donors/donor.service'
import { promisesToApprove } from '#stock/donors/gift.service'

export interface Waits {
  count: number
  /** What they are, for whoever points at the figure: "2 promises to read, 1 thanks overdue". */
  words: string
}

type Part = 'gifts' | 'bench' | 'sale' | 'money' | 'end'

const MAY: Record<Part, readonly Role[]> = {
  gifts: ['maker', 'volunteer'],
  bench: ['maker', 'volunteer', 'host'],
  sale: ['maker', 'host'],
  money: ['maker', 'treasurer'],
  end: ['maker'],
}

/** How much waits for somebody in each part of the work; only what is this reader's to do. */
export function whatWaits(sight: Sight, actor: Actor): Partial<Record<Part, Waits>> {
  const found: Record<Part, () => Waits> = {
    gifts: () =>
      counted([
        [promisesToApprove(sight).length, 'promise to read', 'promises to read'],
        [listDonors(sight).filter(({ isStandIn }) => isStandIn).length, 'parcel from an unknown sender', 'parcels from an unknown sender'],
        [listThanksDue(sight).filter(({ overdue }) => overdue).length, 'thanks older than 48 hours', 'thanks older than 48 hours'],
      ]),
    bench: () => counted([[countOpenFaults(sight), 'open fault', 'open faults']]),
    sale: () => counted([[lotsWithVoidsWaiting(sight).length, 'lot with a bid to void', 'lots with bids to void']]),
    money: () => {
      if (!findCampaign(sight)) return counted([])
      const { statement, unplaced } = readBooks(sight, actor)
      return counted([
        [unplaced.length, 'payment to allocate', 'payments to allocate'],
        [statement.lots.filter(({ owedMinor }) => owedMinor > 0).length, 'lot unpaid', 'lots unpaid'],
      ])
    },
    end: () => counted([[readOutbox(sight).filter(({ isGivenUp }) => isGivenUp).length, 'letter given up', 'letters given up']]),
  }
  const parts = (Object.keys(found) as Part[]).filter((part) => MAY[part].includes(actor.role))
  return Object.fromEntries(parts.map((part) => [part, found[part]()]))
}

function counted(rows: readonly (readonly [count: number, one: string, more: string])[]): Waits {
  const there = rows.filter(([count]) => count > 0)
  return {
    count: there.reduce((sum, [count]) => sum + count, 0),
    words: there.map(([count, one, more]) => `${count} ${count === 1 ? one : more}`).join(', '),
  }
}
