import { hasGoodCheckCharacter } from '#kernel/ids'
import { withoutAtEnd } from '#kernel/text'
import { isPass } from '../units/verdict.rules'
import { fromBase64url } from './base64url.rules'
import type { CertificatePayload } from './certificates.contract'
import { openSigned, readSigned } from './jws.rules'
import { type PublicKey, shortKey } from './key-set.rules'

/**
 * Checks a signed record from what is at hand: the file and the published keys. No house is asked, so it works on a
 * computer that is never connected. The one thing it needs from outside is somebody who verifies Ed25519.
 */

export type VerifyEd25519 = (x: string, signature: Uint8Array, signed: Uint8Array) => Promise<boolean>

export type SignedCheck =
  | { outcome: 'holds'; document: CertificatePayload; kid: string; words: string; isOldKey: boolean }
  /** `isWhole`: a key at hand signed it and nothing was changed, but what was signed does not hold by its own rules. */
  | { outcome: 'broken' | 'unable'; words: string; isWhole?: true }

export async function checkSigned(input: unknown, keys: readonly PublicKey[], verify: VerifyEd25519): Promise<SignedCheck> {
  const read = openSigned(input)
  if ('fault' in read) return { outcome: 'broken', words: read.fault }
  const { kid, payload, signed, signature } = read.opened
  if (keys.length === 0)
    return { outcome: 'unable', words: 'There is no key at hand to check it with. Choose the key set (jwks.json) as well.' }
  const key = keys.find((one) => one.kid === kid)
  if (!key) {
    return {
      outcome: 'broken',
      words: `It was signed with the key ${shortKey(kid)} …, which is none of the ${keys.length === 1 ? 'one key' : `${keys.length} keys`} at hand. Another house made it, somebody signed it again, or its key is newer than the keys at hand.`,
    }
  }
  if (!(await verify(key.x, signature, signed))) {
    return {
      outcome: 'broken',
      words:
        'The signature does not fit: something in it was changed after it was signed, or it was signed anew by another key under this one’s name.',
    }
  }
  const opened = readSigned(payload)
  if ('fault' in opened)
    return opened.isLater ? { outcome: 'unable', words: opened.fault } : { outcome: 'broken', words: opened.fault, isWhole: true }
  const { document } = opened
  const fault = faultInCertificate(document)
  if (fault) return { outcome: 'broken', words: fault, isWhole: true }
  const by = `the ${key.isNewest ? 'key' : 'earlier key'} ${shortKey(kid)} …`
  const words = `${document.results.length} readings of ${document.item.tag}, issued on ${document.issuedAt.slice(0, 10)} as ${document.serial}, are unchanged since they were signed with ${by}.`
  return { outcome: 'holds', document, kid, words, isOldKey: !key.isNewest }
}

/** What no house certifies, whoever signed it. */
function faultInCertificate({ serial, results, issuedAt, withdrawn = [] }: CertificatePayload): string | null {
  if (!hasGoodCheckCharacter(serial)) return `${serial} is not a serial that a house gives: its last character does not fit the rest.`
  const failed = results.find(({ verdict }) => !isPass(verdict))
  if (failed) return `Its reading ${failed.check} ${failed.title} is a “${failed.verdict}”, and no house certifies that.`
  const twice = results.find(({ check }, place) => results.findIndex((one) => one.check === check) < place)
  if (twice) return `It has two readings of ${twice.check} ${twice.title}, and no house certifies one check twice.`
  for (const { serial: gone, at, again, reason } of withdrawn) {
    if (gone === serial) return `It says of itself that it was withdrawn before it was signed.`
    if (reason.trim() === '') return `It says that ${gone} was withdrawn without a reason.`
    if (at > issuedAt) return `It says that ${gone} was withdrawn after it was signed itself.`
    const old = results.find(({ check, takenAt }) => again.includes(check) && takenAt < at)
    if (old)
      return `${gone} was withdrawn before it, to have ${old.check} measured again, and its reading of ${old.check} is from before that.`
  }
  return null
}

/** What a file claims to say, believed by nobody: only to name where it differs from another that holds. Null where it names nothing. */
export function unbelievedPayload(payload: unknown): Record<string, unknown> | null {
  if (typeof payload !== 'string') return null
  const bytes = fromBase64url(payload) ?? fromBase64url(withoutAtEnd(payload, '=').replaceAll('+', '-').replaceAll('/', '_'))
  try {
    const value: unknown = bytes && JSON.parse(new TextDecoder().decode(bytes))
    return typeof value === 'object' && !Array.isArray(value) ? (value as Record<string, unknown> | null) : null
  } catch {
    // Not even JSON any more: there is no field to name.
    return null
  }
}
