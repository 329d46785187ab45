import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { loadUnit } from '../units/unit-state.service'
import type { CardOrder } from './card-paper'
import { boxCode } from './home.service'
import { shortKey } from './key-set.rules'
import { certifiedRecord } from './record.service'

/** The card for the box of a machine, from its record as it stands. */
export function boxCard(sight: Sight, tag: string): CardOrder {
  const { record, standing } = certifiedRecord(sight, loadUnit(sight, tag))
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
