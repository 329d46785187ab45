import { CERTIFICATE_ISSUED, CERTIFICATE_WITHDRAWN, certificateFact } from '#bench/certificates/certificates.contract'
import type { Reaction } from '#runtime/queue/reactions'
import { noteNamedCertificate } from '#sale/bidding/corrections.service'

/** The terms of an open lot name a certificate: when that ends, or another takes its place, the lot's history says so in the same turn. */
export const namedCertificate: Reaction = {
  to: [CERTIFICATE_ISSUED, CERTIFICATE_WITHDRAWN],
  act(turn, { kind, body }) {
    const { unitId, serial, reason, supersedes, after } = certificateFact.parse(body)
    if (kind === CERTIFICATE_WITHDRAWN) noteNamedCertificate(turn, unitId, { serial, is: 'withdrawn', by: null }, reason)
    else if (supersedes) noteNamedCertificate(turn, unitId, { serial: supersedes, is: 'superseded', by: serial })
    else if (after) noteNamedCertificate(turn, unitId, { serial: after, is: 'withdrawn', by: serial })
  },
}
