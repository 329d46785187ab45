import { LABEL_PAPERS, LABEL_SIZES } from '#paper/sheet.rules'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Address, printed } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { type LabelsOrder, labelsOrder } from '#stock/shelf/labels-paper'
import { loadUnit } from '../units/unit-state.service'
import { boxCard } from './box-card.service'
import { certifiedRecord } from './record.service'

/** What is printed for one machine beside its certificate: the card for its box, and the label on it. */
export const unitPaperAddresses: Address[] = [
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
]

function unitLabel(sight: Sight, tag: string, query: URLSearchParams): LabelsOrder {
  const { record, standing } = certifiedRecord(sight, loadUnit(sight, tag))
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
