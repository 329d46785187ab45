import { DateTime } from 'luxon'
import { recordOf } from '#floor/record/record.service'
import { boxCode } from '#bench/certificates/home.service'
import { shortKey } from '#bench/certificates/key-set.rules'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { showIban } from '#money/invoices/iban.rules'
import { findInvoiceFor } from '#money/invoices/invoices.service'
import { longDay } from '#money/invoices/words.rules'
import { packingItems } from '#money/sending/packing.rules'
import type { PaperSize } from '#paper/paper'
import { LABEL_PAPERS, LABEL_SIZES } from '#paper/sheet.rules'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Address, printed } from '#runtime/call/address'
import type { Actor, Sight } from '#runtime/queue/turn'
import { readLotPage } from '#sale/lots/show.service'
import { getDonor } from '#stock/donors/donor.service'
import { giftsOf } from '#stock/donors/gift.service'
import { labelsOrder } from '#stock/shelf/labels-paper'
import type { PaperOrder } from './papers'

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
    items: packingItems({
      lot: number,
      unit: record.tag,
      design: `${record.design.name} rev ${record.design.revision}`,
      serial: standing?.serial ?? null,
      extras: page.extras,
      cautions: record.design.cautions,
      boxCode: boxCode(sight, record.tag),
      isAbroad: true,
    }).map(({ what, note, key }) => ({ what, note: key === 'customs' ? 'only where it leaves the country' : note })),
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

const SELLER_KINDS: Record<string, string> = { private: 'a private person', trader: 'a trader', charity: 'the charity itself' }

/** Null for whoever did not win the lot, as if there were none: the staff and the buyer alone see it. */
function invoice(sight: Sight, actor: Actor, number: number, size: PaperSize): PaperOrder | null {
  const view = findInvoiceFor(sight, actor, number)
  if (!view) return null
  const money = (minor: number) => showMoney(minor, view.currency)
  const day = DateTime.fromMillis(view.soldAt, { zone: view.zone }).toFormat('d LLLL yyyy')
  const registered = view.causeRegistration === '' ? '' : `, registered ${view.causeRegistration}`
  const share = view.shareBp === 10_000 ? 'the whole price goes to it' : `${view.shareBp / 100} % of the price goes to it`
  return {
    of: 'invoice',
    lot: number,
    title: view.title,
    unit: view.unit,
    buyer: view.buyer,
    seller: view.seller,
    sellerAddress: view.sellerAddress,
    sellerKind: SELLER_KINDS[view.sellerKind] ?? '',
    cause: `${view.cause}${registered}; ${share}.`,
    estimate: view.estimate ? `${money(view.estimate.lowMinor)} to ${money(view.estimate.highMinor)}` : '',
    lines: [
      [`${view.title} (${view.unit}), ${view.isResale ? 'price by a contract of its own' : 'hammer price'}`, money(view.hammerMinor)],
      ...view.extras.map((extra): [string, string] => [`With it: ${extra}`, '']),
      [view.country === '' ? 'Postage' : `Postage to ${view.country}`, money(view.postageMinor)],
      ['Together', money(view.hammerMinor + view.postageMinor)],
    ],
    received: money(view.receivedMinor),
    owed: money(view.owedMinor),
    isPaid: view.owedMinor <= 0,
    dueOn: longDay(view.dueOn),
    reference: view.reference,
    account: view.account && { ...view.account, iban: showIban(view.account.iban) },
    payment: view.payment,
    howToPay: view.howToPay,
    cancelWords: view.cancelWords,
    soldOn: view.isResale ? `By a contract of its own, on ${day}.` : `At auction, on ${day}.`,
    size,
    author: view.seller,
    at: view.soldAt,
  }
}
