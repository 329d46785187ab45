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
import { readSending } from './dispatch.service'
import { disposalParts } from './leaflet.rules'
import { postalLines } from './postal.rules'
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
]

const common = (sight: Sight, lot: number, size: PaperSize) => {
  const { closedAt, unit, title } = getToSend(sight, lot)
  return { size, author: getCampaign(sight).sellerName, at: closedAt ?? 0, code: `LOT ${lot} · ${unit}`, title }
}

function customs(sight: Sight, lot: number, size: PaperSize): PaperOrder {
  const { code: _code, title: _title, ...base } = common(sight, lot, size)
  const view = readSending(sight, lot)
  const { hammerMinor, postageMinor } = getToSend(sight, lot)
  const { sellerName, sellerAddress } = getCampaign(sight)
  if (!view.address) throw new Refusal('gate-closed', 'The buyer has not said where it goes, so there is nothing to declare yet.')
  const { parcel } = view
  const grams = parcel.weightGrams
  return {
    of: 'customs',
    ...base,
    lot,
    unit: view.unit,
    from: [sellerName, sellerAddress].filter(Boolean),
    to: [...postalLines(view.address), view.address.telephone].filter(Boolean),
    goods: parcel.goods,
    quantity: '1',
    price: showMoney(hammerMinor, view.currency),
    postage: showMoney(postageMinor, view.currency),
    weight: grams === null ? 'not weighed yet' : showGrams(grams),
    measures: parcel.sizeMm ? `${parcel.sizeMm.join(' × ')} mm` : 'not measured yet',
    origin: parcel.origin === '' ? '' : countryName(parcel.origin),
    tariffHint: parcel.tariffHint,
    reason: 'Sale: bought at a charity auction.',
    dangers: view.dangers,
  }
}

function cautions(sight: Sight, lot: number, size: PaperSize): PaperOrder {
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
          'It says what was measured at the bench, and that the record is unchanged since. It does not say that the machine is safe, lawful or approved anywhere. Where your place has rules for electrical things, they hold.',
        ],
      },
    ],
  }
}

function disposal(sight: Sight, lot: number, size: PaperSize): PaperOrder {
  const view = readSending(sight, lot)
  return { of: 'leaflet', ...common(sight, lot, size), kind: 'At the end of its life', parts: disposalParts(view.parcel.cells) }
}

/** Names as their owners agreed to be printed: a card cannot be recalled. */
function credits(sight: Sight, lot: number, size: PaperSize): PaperOrder {
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

function repeat(sight: Sight, lot: number, size: PaperSize): PaperOrder {
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
