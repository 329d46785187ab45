import { DateTime } from 'luxon'
import { getCampaign } from '../campaign/campaign.service'
import { recordOf } from '../certificates/certificates.service'
import { boxCode } from '../certificates/home.service'
import { shortKey } from '../certificates/key-set.rules'
import { getDonor } from '../donors/donor.service'
import { giftsOf } from '../donors/gift.service'
import { showMoney } from '../kernel/money'
import { Refusal } from '../kernel/refusal'
import { findLot } from '../lots/lots.service'
import { readLotPage } from '../lots/show.service'
import { showCreditorReference } from '../money/creditor-reference.rules'
import { listSoldLots } from '../money/sold.service'
import { STAFF_ROLES } from '../people/people.contract'
import type { Actor, Sight } from '../runtime/turn'
import { type Address, printed } from '../web/address'
import { labelsOrder } from './labels-paper'
import type { PaperSize } from './paper'
import type { PaperOrder } from './papers'
import { LABEL_PAPERS, LABEL_SIZES } from './sheet.rules'

/** Papers that only some may have, each set from what the house knows now. */
export const paperAddresses: Address[] = [
  {
    path: '/bench/units/:tag/card.pdf',
    audience: 'staff',
    answer: (sight, { tag = '' }) => printed(boxCard(sight, tag), `${tag}-card.pdf`),
  },
  {
    path: '/bench/units/:tag/label.pdf',
    audience: 'staff',
    answer: (sight, { tag = '' }, query) => printed(unitLabel(sight, tag, query), `${tag}-label.pdf`),
  },
  {
    path: '/bench/lots/:number/packing.pdf',
    audience: 'staff',
    answer: (sight, { number = '' }, query) => printed(packingList(sight, numberOf(number), sizeOf(query)), `lot-${number}-packing.pdf`),
  },
  {
    path: '/bench/donors/:id/card.pdf',
    audience: 'staff',
    answer: (sight, { id = '' }) => printed(donorCard(sight, id), 'thank-you.pdf'),
  },
  {
    path: '/lots/:number/invoice.pdf',
    audience: 'signed in',
    answer(sight, { number = '' }, query, actor) {
      const order = actor ? invoice(sight, actor, numberOf(number), sizeOf(query)) : null
      return order && printed(order, `lot-${number}-invoice.pdf`)
    },
  },
]

const sizeOf = (query: URLSearchParams): PaperSize => (query.get('paper') === 'letter' ? 'letter' : 'a4')

function numberOf(written: string): number {
  if (!/^[1-9]\d{0,8}$/.test(written)) throw new Refusal('not-found', 'There is no such lot.')
  return Number(written)
}

function boxCard(sight: Sight, tag: string): PaperOrder {
  const { record, standing } = recordOf(sight, { tag })
  const code = boxCode(sight, record.tag)
  return {
    of: 'card',
    tag: record.tag,
    design: `${record.design.name} rev ${record.design.revision}`,
    sentence: record.sentence,
    serial: standing?.serial ?? null,
    address: `${sight.publicUrl}/units/${record.tag}/home?box=${code}`,
    boxCode: code,
    cautions: record.design.cautions,
    keyWords: shortKey(sight.keys.kid),
    author: getCampaign(sight).sellerName,
    at: standing?.issuedAt ?? record.lastReadingAt ?? 0,
  }
}

function unitLabel(sight: Sight, tag: string, query: URLSearchParams): PaperOrder {
  const { record, standing } = recordOf(sight, { tag })
  const paper = LABEL_PAPERS.find((one) => one === query.get('paper')) ?? 'a4'
  const size = LABEL_SIZES.find((one) => one === query.get('size')) ?? 'unit'
  const lines = [`${record.design.name} rev ${record.design.revision}`, standing ? standing.serial : 'no certificate yet']
  const label = { code: `${sight.publicUrl}/units/${record.tag}`, tag: record.tag, lines }
  const at = standing?.issuedAt ?? 0
  return labelsOrder({
    paper,
    size,
    labels: [label],
    skip: Number(query.get('skip') ?? 0),
    title: `Label of ${record.tag}`,
    author: getCampaign(sight).sellerName,
    at,
  })
}

function packingList(sight: Sight, number: number, size: PaperSize): PaperOrder {
  const page = readLotPage(sight, number)
  const { record, standing } = recordOf(sight, { tag: page.card.unit })
  const weight = page.weightGrams === null ? 'not stated' : `${page.weightGrams} g without packing`
  return {
    of: 'packing',
    lot: number,
    title: page.card.title,
    items: [
      {
        what: `${record.tag}, ${record.design.name} rev ${record.design.revision}`,
        note: standing ? standing.serial : 'no certificate stands: do not send it',
      },
      ...page.extras.map((what) => ({ what, note: 'extra' })),
      { what: 'Card for the box (A6)', note: `code ${boxCode(sight, record.tag)}` },
      { what: 'Certificate in print', note: standing ? 'page x of y complete' : '' },
      { what: 'Cautions and disposal leaflet', note: '' },
    ],
    facts: [
      ['Weight', weight],
      ['Size', page.sizeMm ? `${page.sizeMm.join(' × ')} mm` : 'not stated'],
      ['Batteries and mains', 'Look at the cautions; carriers and countries have rules of their own for cells and for mains.'],
    ],
    cautions: record.design.cautions,
    size,
    author: getCampaign(sight).sellerName,
    at: page.card.endedAt ?? 0,
  }
}

function donorCard(sight: Sight, id: string): PaperOrder {
  const donor = getDonor(sight, id)
  if (!donor.consents.card || donor.anonymity !== 'named' || !donor.approved)
    throw new Refusal('gate-closed', 'This donor has not agreed to be named on a printed card, which cannot be recalled. None is printed.')
  const gifts = giftsOf(sight, id).filter(({ kind, state }) => kind !== 'money' && state !== 'declined')
  const campaign = getCampaign(sight)
  return {
    of: 'donor-card',
    name: donor.creditName || donor.name,
    campaign: campaign.name,
    gifts: gifts.slice(0, 12).map(({ what, state }) => `${what}: ${state}`),
    size: 'a4',
    author: campaign.sellerName,
    at: Math.max(0, ...gifts.map(({ at }) => at)),
  }
}

/** Null for whoever did not win the lot, as if there were none: the staff and the buyer alone see it. */
function invoice(sight: Sight, actor: Actor, number: number, size: PaperSize): PaperOrder | null {
  const lot = findLot(sight, number)
  const sold = listSoldLots(sight).find((one) => one.number === number)
  const isStaff = STAFF_ROLES.some((role) => role === actor.role)
  if (!lot || !sold || sold.hammerMinor === 0 || (!isStaff && sold.buyerPersonId !== actor.personId)) return null
  const campaign = getCampaign(sight)
  const money = (minor: number) => showMoney(minor, campaign.currency)
  const day = (at: number) => DateTime.fromMillis(at, { zone: campaign.zone }).toFormat('d LLLL yyyy')
  return {
    of: 'invoice',
    lot: number,
    title: sold.title,
    unit: sold.unit,
    buyer: sold.buyer,
    seller: campaign.sellerName,
    sellerAddress: campaign.sellerAddress,
    cause: campaign.causeName,
    lines: [
      [`${sold.title} (${sold.unit}), hammer price`, money(sold.hammerMinor)],
      ['Postage', money(sold.postageMinor)],
      ['Together', money(sold.hammerMinor + sold.postageMinor)],
    ],
    received: money(sold.receivedMinor),
    owed: money(sold.owedMinor),
    reference: showCreditorReference(sold.reference),
    howToPay: campaign.howToPay,
    cancelWords: campaign.cancelWords,
    closedOn: sold.closedAt === null ? 'the stream day' : day(sold.closedAt),
    size,
    author: campaign.sellerName,
    at: sold.closedAt ?? 0,
  }
}
