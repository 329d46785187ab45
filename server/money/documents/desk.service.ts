import { groupBy } from '#kernel/group'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber, inEveryCampaign } from '#people/campaign/which.service'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { campaignOfLot } from '#sale/lots/lots.service'
import { showCreditorReference } from '../journal/creditor-reference.rules'
import { listSoldLots } from '../journal/sold.service'
import { invoicedBy, statedBy } from './chain.rules'
import type { DocumentContent, DocumentsDesk, DocumentView, PaidTogether, ToInvoice } from './documents.contract'
import { listUninvoiced, readChains } from './documents.service'
import * as store from './documents.store'
import { madeOutTo } from './made-out.service'

/** Every document in the order of its number, and what waits for one. */
export function readDesk(sight: Sight, actor: Actor): DocumentsDesk {
  return {
    currency: getCampaign(sight).currency,
    documents: listViews(sight).filter(isOfCampaign(sight)),
    waiting: listWaiting(sight),
    invoicedMinor: [...readChains(sight).values()].reduce((sum, chain) => (isChainOf(sight, chain) ? sum + invoicedBy(chain) : sum), 0),
    together: listTogether(sight),
    mayWrite: actor.role === 'treasurer',
  }
}

/** A buyer's own documents, and what they may have invoiced. */
export function readMine(sight: Sight, { personId }: Actor): Pick<DocumentsDesk, 'currency' | 'documents'> & { waiting: ToInvoice | null } {
  const own = new Set(store.listDocuments(sight.db).flatMap((row) => (row.personId === personId ? [row.number] : [])))
  return {
    currency: getCampaign(sight).currency,
    documents: listViews(sight).filter(({ number }) => own.has(number)),
    waiting: inEveryCampaign(sight, listWaiting).findLast((one) => one.personId === personId) ?? null,
  }
}

/** A document is over lots of one campaign, and is of that one. */
const isOfCampaign =
  (sight: Sight) =>
  ({ lots: [lot = 0] }: Pick<DocumentView, 'lots'>): boolean =>
    campaignOfLot(sight, lot) === campaignNumber(sight)

const isChainOf = (sight: Sight, [first]: readonly DocumentContent[]): boolean =>
  isOfCampaign(sight)({ lots: first?.lines.map(({ lot }) => lot) ?? [] })

function listViews(sight: Sight): DocumentView[] {
  const digests = new Map(store.listDigests(sight.db).map(({ number, sha256 }) => [number, sha256]))
  return store.listDocuments(sight.db).map(({ number, kind, about, issuedAt, issuedByPersonId, content }) => ({
    number,
    kind,
    about,
    issuedOn: content.issuedOn,
    issuedAt,
    by: issuedByPersonId === null ? null : (findPerson(sight, issuedByPersonId)?.name ?? null),
    buyer: content.buyer.name,
    lots: [...new Set(content.lines.map(({ lot }) => lot))],
    grossMinor: content.grossMinor,
    changeMinor: { invoice: content.grossMinor, 'credit note': -content.grossMinor, 'corrected invoice': content.differenceMinor }[kind],
    why: content.why,
    sha256: digests.get(number) ?? null,
  }))
}

function listWaiting(sight: Sight): ToInvoice[] {
  const sold = new Map(listSoldLots(sight).map((one) => [one.contractId, one]))
  return [...groupBy(listUninvoiced(sight), ({ personId }) => personId ?? '')].map(([personId, contracts]) => ({
    personId,
    buyer: findPerson(sight, personId)?.name ?? '',
    lots: contracts.map(({ entryId, lot, priceMinor, postageMinor }) => {
      const { title = '', owedMinor = 0 } = sold.get(entryId) ?? {}
      return { lot, title, priceMinor, postageMinor, isPaid: owedMinor <= 0 }
    }),
    ...madeOutTo(sight, personId, contracts),
  }))
}

/** Invoices over several lots of which something is still to be paid. */
function listTogether(sight: Sight): PaidTogether[] {
  const sold = listSoldLots(sight)
  return [...readChains(sight)].flatMap(([number, chain]): PaidTogether[] => {
    const ids = new Set(statedBy(chain).map(({ contract }) => contract))
    const lots = sold.filter(({ contractId }) => ids.has(contractId))
    const owedMinor = lots.reduce((sum, one) => sum + one.owedMinor, 0)
    const reference = showCreditorReference(chain[0]?.reference ?? '')
    return lots.length > 1 && owedMinor > 0 ? [{ number, reference, lots: lots.map((one) => one.number), owedMinor }] : []
  })
}
