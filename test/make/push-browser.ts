import { createDecipheriv, createECDH, createPublicKey, type ECDH, hkdfSync, randomBytes, verify } from 'node:crypto'

// What a browser and its push service do with a message, by the words of the standards and none of the library that made it.

/** Reads a message as RFC 8291 says, from the header of RFC 8188 on. */
export function readMessage(body: Buffer, { own, auth }: { own: ECDH; auth: Buffer }): string {
  const salt = body.subarray(0, 16)
  const recordSize = body.readUInt32BE(16)
  const idLength = body.readUInt8(20)
  const sender = body.subarray(21, 21 + idLength)
  const record = body.subarray(21 + idLength)
  if (record.length > recordSize) throw new Error('a message is one record')
  const info = Buffer.concat([Buffer.from('WebPush: info\0'), own.getPublicKey(), sender])
  const ikm = Buffer.from(hkdfSync('sha256', own.computeSecret(sender), auth, info, 32))
  const key = Buffer.from(hkdfSync('sha256', ikm, salt, 'Content-Encoding: aes128gcm\0', 16))
  const nonce = Buffer.from(hkdfSync('sha256', ikm, salt, 'Content-Encoding: nonce\0', 12))
  const open = createDecipheriv('aes-128-gcm', key, nonce)
  open.setAuthTag(record.subarray(-16))
  const padded = Buffer.concat([open.update(record.subarray(0, -16)), open.final()])
  const end = padded.findLastIndex((byte) => byte !== 0)
  if (padded[end] !== 2) throw new Error('the last record ends with a two')
  return padded.subarray(0, end).toString('utf8')
}

/** Who sends, by the header of RFC 8292: throws unless the key that stands there signed it for this service and not for long. */
export function readSender(authorization: string, origin: string, now = Date.now()): { key: string; subject: string } {
  const [, token = '', key = ''] = /^vapid t=([\w.-]+), ?k=([\w-]+)$/.exec(authorization) ?? []
  const [head = '', claims = '', signature = ''] = token.split('.')
  const point = Buffer.from(key, 'base64url')
  const jwk = { kty: 'EC', crv: 'P-256', x: point.subarray(1, 33).toString('base64url'), y: point.subarray(33).toString('base64url') }
  const publicKey = createPublicKey({ key: jwk, format: 'jwk' })
  const isSigned = verify(
    'sha256',
    Buffer.from(`${head}.${claims}`),
    { key: publicKey, dsaEncoding: 'ieee-p1363' },
    Buffer.from(signature, 'base64url'),
  )
  const { aud, exp, sub } = JSON.parse(Buffer.from(claims, 'base64url').toString()) as { aud: string; exp: number; sub: string }
  if (!isSigned || aud !== origin || exp * 1000 < now || exp * 1000 > now + 24 * 3_600_000) throw new Error('not signed for this service')
  return { key, subject: sub }
}

/** A browser with keys of its own, at an address of its push service. */
export function makeBrowser(endpoint: string) {
  const own = createECDH('prime256v1')
  own.generateKeys()
  const auth = randomBytes(16)
  return {
    subscription: { endpoint, p256dh: own.getPublicKey('base64url'), auth: auth.toString('base64url') },
    read: (body: Buffer) => JSON.parse(readMessage(body, { own, auth })) as { title: string; body: string; url: string; tag: string },
  }
}
