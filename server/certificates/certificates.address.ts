import { certificatePaper } from '../documents/certificate-paper'
import { Refusal } from '../kernel/refusal'
import { type Address, type Answer, bytes, json } from '../web/address'
import { findCertificate, recordOf } from './certificates.service'
import { flattened } from './jws.rules'
import { recordForMachines } from './public-record.rules'

const MOST_KEPT = 40

/** Papers lately asked for, by serial, standing and size: setting one takes a quarter of a second. */
const kept = new Map<string, Promise<Buffer>>()

function keptPaper(key: string, make: () => Promise<Buffer>): Promise<Buffer> {
  const before = kept.get(key)
  const paper = before ?? make()
  kept.delete(key)
  kept.set(key, paper)
  // One that failed is not kept: the next to ask tries again.
  if (!before) paper.catch(() => kept.delete(key))
  const oldest = kept.keys().next().value
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest)
  return paper
}

export const certificateAddresses: Address[] = [
  {
    path: '/certificates/:serial.json',
    answer(sight, { serial = '' }) {
      const found = findCertificate(sight, serial)
      return found && { ...json(flattened(found.row)), type: 'application/jose+json', fileName: `${found.row.serial}.json` }
    },
  },
  {
    path: '/certificates/:serial.pdf',
    async answer(sight, { serial = '' }, query): Promise<Answer | null> {
      const found = findCertificate(sight, serial)
      if (!found) return null
      const { row, payload, state } = found
      const size = query.get('paper') === 'letter' ? 'letter' : 'a4'
      const paper = await keptPaper(`${row.serial} ${JSON.stringify(state)} ${size}`, () => certificatePaper(payload, state, size, row.kid))
      return bytes('application/pdf', paper, `${row.serial}.pdf`)
    },
  },
  {
    path: '/.well-known/jwks.json',
    answer: (sight) => ({ ...json(sight.keys.jwks()), type: 'application/jwk-set+json' }),
  },
  {
    path: '/units/:tag/record.json',
    answer(sight, { tag = '' }) {
      try {
        const { record, standing } = recordOf(sight, { tag })
        return json(recordForMachines(record, standing?.serial ?? null))
      } catch (reason) {
        if (reason instanceof Refusal && reason.code === 'not-found') return null
        throw reason
      }
    },
  },
]
