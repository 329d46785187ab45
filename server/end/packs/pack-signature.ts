import { createPublicKey, verify } from 'node:crypto'
import { z } from 'zod'
import { toBase64url } from '#bench/certificates/base64url.rules'
import { flattened, openSigned, partsToSign } from '#bench/certificates/jws.rules'
import { readKeySet, shortKey } from '#bench/certificates/key-set.rules'
import type { Keys } from '#runtime/queue/turn'
import { PACK_FORMAT } from './manifest.contract'
import type { ZipReader } from './zip-reader'
import { SIGNATURE_PATH } from './zip-writer'

/**
 * A pack is signed as certificates are (JWS with Ed25519, flattened), over the digest of its manifest, which has the digests
 * of all other files. So no file of it can be another one than the house packed.
 */
const signedShape = z.strictObject({ kind: z.literal(PACK_FORMAT), version: z.literal(1), manifestSha256: z.string().length(64) })

export const PUBLIC_KEYS = 'keys/public-keys.json'
export const MOST_KEYS_BYTES = 256 * 1024

export function signPack(manifestSha256: string, { kid, sign }: Pick<Keys, 'kid' | 'sign'>): string {
  const { bytes, ...parts } = partsToSign({ kind: PACK_FORMAT, version: 1, manifestSha256 } satisfies z.infer<typeof signedShape>, kid)
  return `${JSON.stringify(flattened({ ...parts, signature: toBase64url(sign(bytes)) }), null, 1)}\n`
}

/** Who signed a pack. */
export interface PackSigner {
  kid: string
  /** False for a key that stands in the pack alone: it proves that the pack is whole, and not whose it is. */
  isKnown: boolean
}

/**
 * Checks the signature of a pack against the keys that this installation knows, or else those in the pack itself. Null for a
 * pack of an earlier version, which has none. Throws, in words, when it does not hold.
 */
export async function readSigner(reader: ZipReader, known: readonly object[]): Promise<PackSigner | null> {
  if (reader.manifest.version === 1) return null
  const result = openSigned(parsed(await reader.readSignature()))
  if ('fault' in result) throw new Error(`The pack is damaged: ${SIGNATURE_PATH} is no signature.`)
  const { kid, payload, signed, signature } = result.opened
  const own = known.length > 0 ? keyIn({ keys: known }, kid) : null
  const x = own ?? keyIn(parsed(await reader.read(PUBLIC_KEYS, MOST_KEYS_BYTES)), kid)
  if (x === null) throw new Error(`The pack is signed by the key ${kid}, which neither stands in it nor is known here. It is not read.`)
  const key = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' })
  const document = signedShape.safeParse(parsed(Buffer.from(payload)))
  if (!verify(null, signed, key, signature) || !document.success || document.data.manifestSha256 !== reader.manifestSha256)
    throw new Error('The pack is damaged: its manifest is not what the house signed.')
  return { kid, isKnown: own !== null }
}

export function signerWords(signer: PackSigner | null): string {
  if (signer === null)
    return 'It carries no signature, since an earlier program made it: its digests prove that it is whole, and nothing says whose it is.'
  const key = `It is signed by the key ${shortKey(signer.kid)} … (${signer.kid})`
  return signer.isKnown
    ? `${key}, which this installation knows.`
    : `${key}. That key stands in the pack itself, which proves only that the pack is whole, and not whose it is: compare it with the fingerprint that the house has told on its papers or on the stream.`
}

function keyIn(set: unknown, kid: string): string | null {
  const read = readKeySet(set)
  return 'fault' in read ? null : (read.keys.find((key) => key.kid === kid)?.x ?? null)
}

function parsed(bytes: Buffer): unknown {
  try {
    return JSON.parse(bytes.toString('utf8'))
  } catch {
    // Whoever asks finds that it has not the shape that was wanted, and says so.
    return undefined
  }
}
