import { type Address, json, printed, sheetAsked } from '#runtime/call/address'
import { findCertificate } from './certificates.service'
import { flattened } from './jws.rules'
import { schemaOf } from './record.schema.rules'
import { signedList, signedStatus } from './status.service'

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
    reads: ['paper'],
    answer(sight, { serial = '' }, query) {
      const found = findCertificate(sight, serial)
      if (!found) return null
      const { row, payload, state } = found
      const size = sheetAsked(query)
      return printed({ of: 'certificate', payload, state, size, kid: row.kid }, `${row.serial}.pdf`)
    },
  },
  {
    path: '/certificates/:serial/status.json',
    answer(sight, { serial = '' }) {
      const signed = signedStatus(sight, serial)
      return signed && { ...json(signed), type: 'application/jose+json', fileName: `${serial.toUpperCase()}-status.json` }
    },
  },
  {
    path: '/certificates.json',
    answer: (sight) => ({ ...json(signedList(sight)), type: 'application/jose+json', fileName: 'certificates.json' }),
  },
  {
    path: '/.well-known/jwks.json',
    answer: (sight) => ({ ...json(sight.keys.jwks()), type: 'application/jwk-set+json' }),
  },
  {
    path: '/schemas/:name.json',
    answer(_sight, { name = '' }) {
      const schema = schemaOf(name)
      return schema && { ...json(schema), type: 'application/schema+json' }
    },
  },
]
