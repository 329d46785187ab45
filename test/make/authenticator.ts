import { createHash, generateKeyPairSync, type KeyObject, randomBytes, sign } from 'node:crypto'

interface Options {
  challenge: string
  rpId?: string
  rp?: { id?: string }
  allowCredentials?: { id: string }[]
  excludeCredentials?: { id: string }[]
}

const sha256 = (bytes: string | Uint8Array) => createHash('sha256').update(bytes).digest()

/** CBOR (RFC 8949) as far as an attestation needs it: whole numbers, bytes, texts and maps. */
function cbor(value: number | string | Uint8Array | Map<unknown, unknown>): Buffer {
  const head = (major: number, n: number) =>
    n < 24
      ? Buffer.from([(major << 5) | n])
      : n < 256
        ? Buffer.from([(major << 5) | 24, n])
        : Buffer.from([(major << 5) | 25, n >> 8, n & 255])
  if (typeof value === 'number') return value < 0 ? head(1, -1 - value) : head(0, value)
  if (typeof value === 'string') return Buffer.concat([head(3, Buffer.byteLength(value)), Buffer.from(value)])
  if (value instanceof Uint8Array) return Buffer.concat([head(2, value.length), value])
  return Buffer.concat([head(5, value.size), ...[...value].flat().map((one) => cbor(one as number))])
}

/**
 * A device that holds passkeys, as WebAuthn Level 2 describes its bytes: made without the library that checks them. `lie`
 * changes what it says of itself.
 */
export function makeAuthenticator({ origin = 'https://bench.example' } = {}) {
  const keys = new Map<string, { secret: KeyObject; count: number }>()
  const lie = { origin, asksWhoHoldsIt: true, count: null as number | null }

  const clientData = (type: string, challenge: string) =>
    Buffer.from(JSON.stringify({ type, challenge, origin: lie.origin, crossOrigin: false }))
  const dataOf = (rpId: string, count: number, credential: Buffer = Buffer.alloc(0)) => {
    const flags = 0x01 | (lie.asksWhoHoldsIt ? 0x04 : 0) | (credential.length > 0 ? 0x40 : 0)
    const counted = Buffer.alloc(4)
    counted.writeUInt32BE(count)
    return Buffer.concat([sha256(rpId), Buffer.from([flags]), counted, credential])
  }

  return {
    lie,
    ids: () => [...keys.keys()],
    /** Takes over the keys of another device, as a copy would have them. */
    copy: (other: { keys: typeof keys }) => {
      for (const [id, key] of other.keys) keys.set(id, { ...key })
    },
    keys,
    /** Makes a key; `id` is what a device that lies about its credential would say. */
    make(options: Options, id = randomBytes(24).toString('base64url')) {
      if (options.excludeCredentials?.some((one) => keys.has(one.id))) throw new Error('this device has a key of this account')
      const { publicKey, privateKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' })
      const { x = '', y = '' } = publicKey.export({ format: 'jwk' })
      const cose = new Map<number, number | Buffer>([
        [1, 2],
        [3, -7],
        [-1, 1],
        [-2, Buffer.from(x, 'base64url')],
        [-3, Buffer.from(y, 'base64url')],
      ])
      const raw = Buffer.from(id, 'base64url')
      const length = Buffer.from([raw.length >> 8, raw.length & 255])
      const authData = dataOf(options.rp?.id ?? '', 0, Buffer.concat([Buffer.alloc(16), length, raw, cbor(cose)]))
      const attestation = new Map<string, unknown>([
        ['fmt', 'none'],
        ['attStmt', new Map()],
        ['authData', authData],
      ])
      keys.set(id, { secret: privateKey, count: 0 })
      return {
        id,
        rawId: id,
        type: 'public-key' as const,
        clientExtensionResults: {},
        response: {
          clientDataJSON: clientData('webauthn.create', options.challenge).toString('base64url'),
          attestationObject: cbor(attestation).toString('base64url'),
          transports: ['internal'],
        },
      }
    },
    /** Signs with the first key that is asked for, or with the newest of its own. */
    sign(options: Options) {
      const id = options.allowCredentials?.find((one) => keys.has(one.id))?.id ?? [...keys.keys()].at(-1)
      const key = id === undefined ? undefined : keys.get(id)
      if (id === undefined || !key) throw new Error('this device has no key for this house')
      key.count += 1
      const clientDataJSON = clientData('webauthn.get', options.challenge)
      const authenticatorData = dataOf(options.rpId ?? '', lie.count ?? key.count)
      return {
        id,
        rawId: id,
        type: 'public-key' as const,
        clientExtensionResults: {},
        response: {
          clientDataJSON: clientDataJSON.toString('base64url'),
          authenticatorData: authenticatorData.toString('base64url'),
          signature: sign('sha256', Buffer.concat([authenticatorData, sha256(clientDataJSON)]), key.secret).toString('base64url'),
        },
      }
    },
  }
}
