import { findPerson } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import type { Contract } from '../journal/contracts.service'
import { findAddress } from '../sending/address.service'
import { postalLines } from '../sending/postal.rules'
import type { DocumentContent } from './documents.contract'

/** To whom an invoice of these contracts is made out unless somebody says otherwise: to where the first of them goes. */
export function madeOutTo(sight: Sight, personId: string, contracts: readonly Contract[]): DocumentContent['buyer'] {
  const name = findPerson(sight, personId)?.name ?? ''
  for (const { lotId } of contracts) {
    const address = findAddress(sight, lotId, personId)
    if (!address) continue
    const lines = postalLines(address).filter((line) => line !== address.name)
    return { name: address.name, address: lines.join('\n') }
  }
  return { name, address: '' }
}
