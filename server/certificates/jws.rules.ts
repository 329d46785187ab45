import canonicalize from 'canonicalize'
import { z } from 'zod'
import { invariant } from '../kernel/invariant'
import { type CertificatePayload, certificatePayload, type SignedCertificate, signedCertificate } from './certificates.contract'

/**
 * JSON Web Signature with Ed25519 (RFC 7515, RFC 8037) over canonical JSON (RFC 8785), flattened form.
 * Pure, so that the house, the tests and the reader's browser open a certificate by the same rules;
 * who checks the signature itself (node:crypto, WebCrypto, jose) is the caller's to say.
 */

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_'

/** base64url without padding, RFC 7515 appendix C. */
export function toBase64url(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length; at += 3) {
    const left = bytes.length - at
    const group = ((bytes[at] ?? 0) << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0)
    for (let place = 0; place < Math.min(4, left + 1); place += 1) text += ALPHABET.charAt((group >> (18 - 6 * place)) & 63)
  }
  return text
}

/**
 * Null for anything but the one canonical spelling: padding, white space, `+` and `/`, a length that
 * cannot be, and spare bits of the last character that are not nought. Without that last rule several
 * spellings of one signature would pass, and a changed character could go unseen.
 */
export function fromBase64url(text: string): Uint8Array | null {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) return null
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4))
  let held = 0
  let bits = 0
  let at = 0
  for (const character of text) {
    held = ((held << 6) | ALPHABET.indexOf(character)) & 0xffff
    bits += 6
    if (bits >= 8) {
      bits -= 8
      bytes[at] = (held >> bits) & 0xff
      at += 1
    }
  }
  return (held & ((1 << bits) - 1)) === 0 ? bytes : null
}

const header = z.strictObject({ alg: z.literal('EdDSA'), kid: z.string().min(1).max(200) })

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)

/** What has to be signed: the two encoded parts, and the bytes between which the signature stands. */
export function partsToSign(payload: CertificatePayload, kid: string): { protected: string; payload: string; bytes: Uint8Array } {
  const encoded = {
    protected: toBase64url(utf8(canonicalText({ alg: 'EdDSA', kid }))),
    payload: toBase64url(utf8(canonicalText(payload))),
  }
  return { ...encoded, bytes: utf8(`${encoded.protected}.${encoded.payload}`) }
}

export function canonicalText(value: unknown): string {
  const text = canonicalize(value)
  invariant(text !== undefined, 'what is signed is a JSON value')
  return text
}

export interface OpenedCertificate {
  kid: string
  /** What was signed, not yet read: nothing in it is believed before the signature has been checked. */
  payload: Uint8Array
  signed: Uint8Array
  signature: Uint8Array
}

/** What can be found wrong without the key, in words; or the parts that the key must decide on. */
export function openSigned(input: unknown): { opened: OpenedCertificate } | { fault: string } {
  const envelope = signedCertificate.safeParse(input)
  if (!envelope.success)
    return { fault: 'This is not a signed certificate: it must have payload, protected and signature, and nothing else.' }
  const { protected: head, payload, signature } = envelope.data
  const headBytes = fromBase64url(head)
  const payloadBytes = fromBase64url(payload)
  const signatureBytes = fromBase64url(signature)
  if (!headBytes || !payloadBytes || !signatureBytes)
    return { fault: 'A part of it is not written in canonical base64url, so it has been changed.' }
  if (signatureBytes.length !== 64) return { fault: 'Its signature has not 64 bytes, as one of Ed25519 must.' }
  const headRead = header.safeParse(parsedCanonical(headBytes))
  if (!headRead.success) return { fault: 'Its header does not name Ed25519 (EdDSA) and a key, and nothing else.' }
  return { opened: { kid: headRead.data.kid, payload: payloadBytes, signed: utf8(`${head}.${payload}`), signature: signatureBytes } }
}

/** The document whose signature has been checked; null when it is not canonical JSON of a certificate's form. */
export function readPayload(bytes: Uint8Array): CertificatePayload | null {
  const read = certificatePayload.safeParse(parsedCanonical(bytes))
  return read.success ? read.data : null
}

/** Undefined unless the bytes are UTF-8 and the canonical spelling of the JSON that they hold. */
function parsedCanonical(bytes: Uint8Array): unknown {
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
    const value: unknown = JSON.parse(text)
    return canonicalText(value) === text ? value : undefined
  } catch {
    // Not UTF-8 or not JSON: the caller says so, as it does for any other thing that is no certificate.
    return undefined
  }
}

/** The flattened form, with its members in the order that people expect to read. */
export const flattened = ({ payload, protected: head, signature }: SignedCertificate): SignedCertificate => ({
  payload,
  protected: head,
  signature,
})
