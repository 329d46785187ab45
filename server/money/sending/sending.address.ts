import { boxCard } from '#bench/certificates/box-card.service'
import { boxCode, homeChecks } from '#bench/certificates/home.service'
import { unitRecord } from '#bench/certificates/record.service'
import { homeLines } from '#bench/certificates/sentences.rules'
import { creditsOfUnit } from '#gifts/credits/credits.service'
import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { PaperOrder } from '#paper/order'
import type { PaperSize } from '#paper/paper'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Address, printed, sheetAsked } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { lotNumberIn } from '#sale/lots/lot-number.rules'
import { getLotRow } from '#sale/lots/lots.service'
import { creditLine } from '#stock/donors/credit.rules'
import { type CustomsOrder, NO_CODE } from './customs-paper'
import { disposalParts } from './leaflet.rules'
import type { LeafletOrder } from './leaflet-paper'
import { packingList } from './packing.address'
import type { ParcelPapersOrder } from './parcel-papers'
import { postalLines } from './postal.rules'
import type { RepeatOrder } from './repeat-paper'
import { readSending } from './to-send.service'
import { type InParcel, inParcelOf } from './together.service'
import { showGrams } from './weight.rules'
import { getToSend } from './won.service'

const paper = (name: string, order: (sight: Sight, lot: number, size: PaperSize) => PaperOrder): Address => ({
  path: `/bench/sending/:lot/${name}.pdf`,
  audience: ['maker', 'volunteer'],
  answer: (sight, { lot = '' }, query) => printed(order(sight, lotNumberIn(lot), sheetAsked(query)), `lot-${lot}-${name}.pdf`),
})

/** The papers of one parcel, each set from what the house knows now; for those who send, since a buyer's address stands on the customs draft. */
export const sendingAddresses: Address[] = [
  paper('customs', customs),
  paper('cautions', cautions),
  paper('disposal', disposal),
  paper('credits', credits),
  paper('repeat', repeat),
  paper('papers', everyPaper),
]

const common = (sight: Sight, lot: number, size: PaperSize) => {
  const { soldAt, unit, title } = getToSend(sight, lot)
  return { size, author: getCampaign(sight).sellerName, at: soldAt, code: `LOT ${lot} · ${unit}`, title }
}

/** Of the whole parcel: a row for each lot in it. */
function customs(sight: Sight, lot: number, size: PaperSize): CustomsOrder {
  const { title: _title, code: _code, ...base } = common(sight, lot, size)
  const together = inParcelOf(sight, lot)
  const views = together.map(({ sold }) => ({ sold, view: readSending(sight, sold.number) }))
  const { sellerName, sellerAddress } = getCampaign(sight)
  const address = views[0]?.view.address
  if (!address) throw new Refusal('gate-closed', 'The buyer has not said where it goes, so there is nothing to declare yet.')
  const { currency, parcel, postage } = readSending(sight, lot)
  return {
    of: 'customs',
    ...base,
    code: codeOf(together),
    from: [sellerName, sellerAddress].filter(Boolean),
    to: [...postalLines(address), address.telephone].filter(Boolean),
    goods: views.map(({ sold, view }) => ({
      goods: view.parcel.goods,
      quantity: '1',
      netWeight: view.parcel.netGrams === null ? 'not said' : showGrams(view.parcel.netGrams),
      price: showMoney(sold.hammerMinor, currency),
      code: view.parcel.tariffHint === '' ? NO_CODE : view.parcel.tariffHint,
      origin: view.parcel.origin === '' ? '' : countryName(view.parcel.origin),
    })),
    postage: showMoney(postage.paidMinor, currency),
    weight: parcel.weightGrams === null ? 'not weighed yet' : showGrams(parcel.weightGrams),
    measures: parcel.sizeMm ? `${parcel.sizeMm.join(' × ')} mm` : 'not measured yet',
    reason: 'Sale: bought at a charity auction.',
    dangers: [...new Set(views.flatMap(({ view }) => view.dangers))],
  }
}

const codeOf = (together: readonly InParcel[]): string => together.map(({ sold, row }) => `LOT ${sold.number} · ${row.unitTag}`).join(', ')

/** All that is printed for a parcel, of each lot in it, short papers one below the other. */
function everyPaper(sight: Sight, lot: number, size: PaperSize): ParcelPapersOrder {
  const { author, at } = common(sight, lot, size)
  const together = inParcelOf(sight, lot)
  const { isAbroad, address } = readSending(sight, lot)
  const numbers = together.map(({ sold }) => sold.number)
  return {
    of: 'parcel-papers',
    size,
    author,
    at,
    code: codeOf(together),
    papers: [
      ...numbers.map((number) => packingList(sight, number, size)),
      ...(isAbroad && address ? [customs(sight, lot, size)] : []),
      ...together.flatMap(({ sold: { number }, row }) => [
        boxCard(sight, row.unitTag),
        cautions(sight, number, size),
        credits(sight, number, size),
      ]),
      ...disposals(sight, numbers, size),
      ...numbers.map((number) => repeat(sight, number, size)),
    ],
  }
}

/** One leaflet on disposal, unless what is in the lots asks for different ones. */
function disposals(sight: Sight, lots: readonly number[], size: PaperSize): LeafletOrder[] {
  const all = lots.map((lot) => disposal(sight, lot, size))
  const first = JSON.stringify(all[0]?.parts)
  return all.every(({ parts }) => JSON.stringify(parts) === first) ? all.slice(0, 1) : all
}

function cautions(sight: Sight, lot: number, size: PaperSize): LeafletOrder {
  const view = readSending(sight, lot)
  const { design } = unitRecord(sight, view.unit)
  const own =
    design.cautions.length === 0
      ? ['Nothing is written for this design. Treat it as what it is: built by hand, one of a few.']
      : design.cautions
  return {
    of: 'leaflet',
    ...common(sight, lot, size),
    kind: 'Cautions',
    parts: [
      { heading: '', paragraphs: own },
      ...(design.quirks.length > 0 ? [{ heading: 'Known quirks', paragraphs: design.quirks }] : []),
      ...(view.dangers.length > 0 ? [{ heading: 'In this parcel', paragraphs: view.dangers }] : []),
      {
        heading: 'What its certificate does not say',
        paragraphs: [
          'It says what was measured at the bench, and that the record is unchanged since. It does not say that the machine is safe, lawful or approved anywhere. If there are rules for electrical goods where you live, they apply.',
        ],
      },
    ],
  }
}

function disposal(sight: Sight, lot: number, size: PaperSize): LeafletOrder {
  const view = readSending(sight, lot)
  return { of: 'leaflet', ...common(sight, lot, size), kind: 'At the end of its life', parts: disposalParts(view.parcel.cells) }
}

/** Names as their owners agreed to be printed: a card cannot be recalled. */
function credits(sight: Sight, lot: number, size: PaperSize): LeafletOrder {
  const named = creditsOfUnit(sight, getLotRow(sight, lot).unitId, 'card')
  const line = creditLine(named)
  const others = named.unnamed > 0 ? 'Others gave who are not named here.' : ''
  return {
    of: 'leaflet',
    ...common(sight, lot, size),
    kind: 'Made from gifts',
    parts: [
      {
        heading: '',
        paragraphs: [
          line === ''
            ? 'Everybody whose gift is in this machine asked not to be named on a card.'
            : `Gifts of ${line} are in this machine, or helped to make it.`,
          ...(line !== '' && others !== '' ? [others] : []),
          `What it raised goes to ${getCampaign(sight).causeName}. The credits as they stand today: ${sight.publicUrl}/credits/lots/${lot}`,
        ],
      },
    ],
  }
}

function repeat(sight: Sight, lot: number, size: PaperSize): RepeatOrder {
  const { code: _code, title: _title, ...base } = common(sight, lot, size)
  const { unit } = getToSend(sight, lot)
  const home = homeChecks(sight, { tag: unit })
  return {
    of: 'repeat',
    ...base,
    tag: home.tag,
    design: home.design,
    serial: home.serial ?? 'no certificate',
    address: `${sight.publicUrl}/units/${home.tag}/home?box=${boxCode(sight, home.tag)}`,
    cautions: home.cautions,
    checks: home.checks.map(({ check, title, plain, shown, lower, upper, unit: measure, ...step }) => ({
      check,
      title,
      plain: plain ?? '',
      shown: measure ? `${shown} ${measure}` : shown,
      limits: limitsOf(lower, upper, measure),
      how: homeLines(step),
    })),
  }
}

function limitsOf(lower: number | null, upper: number | null, measure: string | null): string {
  const unit = measure ? ` ${measure}` : ''
  if (lower !== null && upper !== null) return `${lower} – ${upper}${unit}`
  if (lower !== null) return `≥ ${lower}${unit}`
  return upper === null ? '' : `≤ ${upper}${unit}`
}
