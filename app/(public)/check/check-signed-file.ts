import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { type CertificatePayload, certificatePayload } from '#bench/certificates/certificates.contract'
import { checkSigned, unbelievedPayload } from '#bench/certificates/check.rules'
import { openSigned } from '#bench/certificates/jws.rules'
import { type Finding, type KeysAtHand, type Value, VERDICTS } from './finding'

export interface CheckedSigned {
  finding: Finding
  /** What was signed, where a key at hand signed it and nothing was changed. */
  document: CertificatePayload | null
  /** True when the key is the house's. */
  isOurs: boolean
}

/** A signed record of tests: whose it is, and whether it is whole. */
export async function checkSignedFile(name: string, value: Value, { house, brought }: KeysAtHand): Promise<CheckedSigned> {
  const opened = openSigned(value)
  const found = (
    verdict: ReturnType<(typeof VERDICTS)['ours']>,
    words = '',
    document: CertificatePayload | null = null,
  ): CheckedSigned => ({
    finding: { about: name, words, ...verdict, ...(document && { link: linkTo(document) }) },
    document,
    isOurs: verdict.tone === 'ok',
  })
  if ('fault' in opened) return found(VERDICTS.changed(opened.fault))
  const { kid } = opened.opened
  const isNamed = house.some((key) => key.kid === kid)
  if (!isNamed && !brought.some((key) => key.kid === kid)) {
    return house.length === 0
      ? found(VERDICTS.untold('No key is at hand to check it with. Choose the key set (jwks.json) as well.'))
      : found(VERDICTS.stranger(kid), 'Another house made it, somebody signed it again, or its key is newer than the keys at hand.')
  }
  const check = await checkSigned(value, isNamed ? house : brought, verifyEd25519)
  if (check.outcome !== 'holds') {
    if (check.outcome === 'unable') return found(VERDICTS.untold(check.words))
    if (!check.isWhole) return found(VERDICTS.changed(check.words))
    return isNamed ? found(VERDICTS.wrong(check.words)) : found(VERDICTS.foreign(kid), check.words)
  }
  const { document, isOldKey, words } = check
  if (!isNamed)
    return found(
      VERDICTS.foreign(kid),
      `${words} The key came with the files, and whoever gives you a record can give you a key as well: it proves nothing about this house.`,
      document,
    )
  const later = isOldKey ? ' The house has a newer key now; what an earlier one signed still holds.' : ''
  return found(VERDICTS.ours(), `${words}${later}`, document)
}

const linkTo = ({ links, serial }: CertificatePayload) => ({ href: links.home + links.certificate, label: `Page of ${serial}` })

/** What a file claims to say, believed by nobody: only to name where it differs from another that holds. */
export const claimOf = (value: Value): Value | null => unbelievedPayload(value.payload)

/** The same, where it has the form of a certificate. */
export function claimedCertificate(value: Value): CertificatePayload | null {
  const read = certificatePayload.safeParse(claimOf(value))
  return read.success ? read.data : null
}
