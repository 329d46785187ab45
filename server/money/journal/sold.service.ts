import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import { findPaddle, findPerson } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import type { LotCard } from '#sale/lots/lots.contract'
import { listLots } from '#sale/lots/lots.service'
import { listContracts } from './contracts.service'
import { lotAccounts } from './covering.rules'
import * as store from './journal.store'
import { type LotAccount, lotMoneyState } from './lot-account.rules'
import type { SoldLot } from './sold.contract'

export interface LotInBooks {
  lot: LotCard
  account: LotAccount
  /** Who bought it by the contract that was made last; null for a lot sold elsewhere. */
  buyerPersonId: string | null
}

/** A lot that was sold, with its account. Refuses at `lot`. */
export function getSoldLot(sight: Sight, number: number): LotInBooks {
  const lot = listLots(sight).find((each) => each.number === number)
  if (!lot) throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  const journal = store.readJournal(sight.db, campaignNumber(sight))
  const account = lotAccounts(journal).find(({ lotId }) => lotId === lot.id)
  if (!account) throw Refusal.at('lot', `Lot ${number} has not been sold, so nothing is owed for it.`, 'conflict')
  return { lot, account, buyerPersonId: buyerOf(lot.id, journal) }
}

/** The same, refused when the sale fell through. */
export function getStandingSale(sight: Sight, number: number): LotInBooks {
  const found = getSoldLot(sight, number)
  if (found.account.hammerMinor === 0)
    throw Refusal.at('lot', `The sale of lot ${number} fell through, so nothing is owed for it. Choose another lot.`, 'conflict')
  return found
}

/** Whether somebody has it now, by whatever contract. */
export const hasStandingSale = (sight: Sight, lotId: string): boolean =>
  lotAccounts(store.readJournal(sight.db, campaignNumber(sight))).some((account) => account.lotId === lotId && account.hammerMinor > 0)

const buyerOf = (lotId: string, journal: readonly store.JournalRow[]): string | null =>
  journal.findLast((entry) => entry.lotId === lotId && (entry.kind === 'hammer' || entry.kind === 'resale'))?.personId ?? null

/** Every lot that was sold, with where its money stands. */
export function listSoldLots(sight: Sight): SoldLot[] {
  const accounts = lotAccounts(store.readJournal(sight.db, campaignNumber(sight)))
  const contracts = new Map(listContracts(sight).map((contract) => [contract.lotId, contract]))
  const campaignBp = findCampaign(sight)?.causeShareBp ?? 0
  return listLots(sight).flatMap((lot): SoldLot[] => {
    const account = accounts.find(({ lotId }) => lotId === lot.id)
    const contract = contracts.get(lot.id)
    if (!account || !contract) return []
    const { fellAtMinor, hammerMinor, causeMinor, postageMinor, receivedMinor, owedMinor } = account
    const buyerPersonId = contract.personId
    const buyer = buyerPersonId === null ? null : findPerson(sight, buyerPersonId)
    return [
      {
        number: lot.number,
        title: lot.title,
        unit: lot.unit,
        state: lotMoneyState(account),
        buyer: buyer?.name ?? 'sold elsewhere',
        buyerPersonId,
        paddle: buyerPersonId === null ? null : (findPaddle(sight, buyerPersonId)?.number ?? null),
        contractId: contract.entryId,
        reference: contract.reference,
        by: contract.by,
        fellAtMinor,
        hammerMinor,
        causeMinor,
        shareBp: lot.causeShareBp ?? campaignBp,
        postageMinor,
        receivedMinor,
        owedMinor,
        soldAt: contract.at,
      },
    ]
  })
}
