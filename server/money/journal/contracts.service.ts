import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import { fixedPriceEntries } from '#sale/fixed-price/shown-price.service'
import { listLots } from '#sale/lots/lots.service'
import { lotAccounts } from './covering.rules'
import { contractReference, jointReference } from './creditor-reference.rules'
import * as store from './journal.store'
import type { SoldBy } from './sold.contract'

/** One contract of sale. */
export interface Contract {
  /** The entry of its price. */
  entryId: string
  lotId: string
  lot: number
  personId: string | null
  buyer: string
  /** ISO 11649, its own or the one that it shares with others of its buyer. */
  reference: string
  /** References that it was known under: its own always stays good. */
  references: string[]
  by: SoldBy
  /** When it was made. */
  at: Instant
  /** Nobody bought the lot after this one. It may have fallen through all the same. */
  isLast: boolean
  /** What stands of it now: nought once it fell through. */
  priceMinor: Minor
  postageMinor: Minor
}

/** Every contract in the order in which they were made. */
export function listContracts(sight: Sight): Contract[] {
  const campaign = findCampaign(sight)
  if (!campaign) return []
  const journal = store.readJournal(sight.db, campaign.number)
  const accounts = new Map(lotAccounts(journal).map((account) => [account.lotId, account]))
  const lots = new Map(listLots(sight).map((lot) => [lot.id, lot]))
  const fixed = fixedPriceEntries(sight)
  const joint = new Map(store.listJointReferences(sight.db).map(({ entryId, reference }) => [entryId, reference]))
  const prices = journal.filter(({ kind, correctsId }) => (kind === 'hammer' || kind === 'resale') && correctsId === null)
  const lastOf = new Map(prices.map(({ id, lotId }) => [lotId, id]))
  const counted = new Map<string, number>()
  return prices.flatMap(({ id: entryId, lotId, personId, kind, at }): Contract[] => {
    const lot = lotId === null ? undefined : lots.get(lotId)
    const account = lotId === null ? undefined : accounts.get(lotId)
    if (lotId === null || lot === undefined || !account) return []
    const nth = (counted.get(lotId) ?? 0) + 1
    counted.set(lotId, nth)
    const own = contractReference(campaign.id, lot.number, nth)
    const shared = joint.get(entryId)
    const isLast = lastOf.get(lotId) === entryId
    return [
      {
        entryId,
        lotId,
        lot: lot.number,
        personId,
        buyer: personId === null ? '' : (findPerson(sight, personId)?.name ?? ''),
        reference: shared ?? own,
        references: shared === undefined ? [own] : [shared, own],
        by: kind === 'hammer' ? 'hammer' : fixed.has(entryId) ? 'fixed price' : 'underbidder',
        at: kind === 'hammer' ? (lot.endedAt ?? at) : at,
        isLast,
        priceMinor: isLast ? account.hammerMinor : 0,
        postageMinor: isLast ? account.postageMinor : 0,
      },
    ]
  })
}

/** From now on these contracts are paid under one reference. Answers it. */
export function payTogether(turn: Turn, entryIds: readonly string[], invoiceNumber: number): string {
  const reference = jointReference(getCampaign(turn).id, invoiceNumber)
  for (const entryId of entryIds) store.insertJointReference(turn.db, { entryId, reference })
  return reference
}
