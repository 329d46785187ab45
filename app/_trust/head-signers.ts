import { fromBase64url } from '#bench/certificates/base64url.rules'
import type { VerifyEd25519 } from '#bench/certificates/check.rules'
import type { PublicKey } from '#bench/certificates/key-set.rules'
import { isKeyOf, type OpenedNote } from '#sale/history/checkpoint.rules'

/** Who signed a head: a key at hand; a key at hand whose signature does not fit; or one that is not at hand. */
export type HeadSigner = { is: 'signed'; kid: string } | { is: 'unfit'; kid: string } | { is: 'unknown' }

/** The note itself says by four bytes which key signed it; no other key is tried, so those bytes cannot say anything else. */
export async function headSigner(note: OpenedNote, keys: readonly PublicKey[], verify: VerifyEd25519): Promise<HeadSigner> {
  const signed = new TextEncoder().encode(note.text)
  let unfit: string | null = null
  for (const { kid, x } of keys) {
    const raw = fromBase64url(x)
    if (!raw || !isKeyOf(note, raw)) continue
    if (await verify(x, note.signature, signed)) return { is: 'signed', kid }
    unfit = kid
  }
  return unfit === null ? { is: 'unknown' } : { is: 'unfit', kid: unfit }
}
