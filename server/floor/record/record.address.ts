import { recordForMachines } from '#bench/certificates/public-record.rules'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Address, json } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { pictureOf } from './picture.rules'
import { type RecordView, recordOf } from './record.service'

export const recordAddresses: Address[] = [
  {
    path: '/units/:tag/card.png',
    answer(sight, { tag = '' }) {
      const view = recordOrNull(sight, tag)
      return view && { type: 'image/png', body: { print: pictureOf(view, getCampaign(sight)) }, keepSeconds: 300 }
    },
  },
  {
    path: '/units/:tag/record.json',
    answer(sight, { tag = '' }) {
      const view = recordOrNull(sight, tag)
      return view && json(recordForMachines(view.record, view.standing?.serial ?? null))
    },
  },
]

function recordOrNull(sight: Sight, tag: string): RecordView | null {
  try {
    return recordOf(sight, { tag })
  } catch (reason) {
    if (reason instanceof Refusal && reason.code === 'not-found') return null
    throw reason
  }
}
