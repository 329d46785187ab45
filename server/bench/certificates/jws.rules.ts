import canonicalize from 'canonicalize'
import { z } from 'zod'
import { invariant } from '#kernel/invariant'
import { faultOfPart, fromBase64url, toBase64url } from './base64url.rules'
import { type CertificatePayload, certificatePayload, type SignedCertificate, signedCertificate } from './certificates.contract'

/**
 * JSON Web Signature with Ed25519 (RFC 7515, RFC 8037) over canonical JSON (RFC 8785), flattened form.
 * Pure, so that the house, the tests and the reader's browser open a certificate by the same rules;
 * who checks the signature itself (node:crypto, WebCrypto, jose) is the caller's to say.
 */

const header = z.strictObject({ alg: z.literal('EdDSA'), kid: z.string().min(1).max(200) })

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)

/** What has to be signed: the two encoded parts, and the bytes between which the signature stands. */
export function partsToSign<Payload extends object = CertificatePayload>(
  payload: Payload,
  kid: string,
): { protected: string; payload: string; bytes: Uint8Array } {
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
    return { fault: faultOfPart('header', head) ?? faultOfPart('payload', payload) ?? faultOfPart('signature', signature) ?? '' }
  if (signatureBytes.length !== 64)
    return { fault: `Its signature has ${signatureBytes.length} bytes; one of Ed25519 has 64. Something was cut off or added.` }
  const headRead = header.safeParse(parsedCanonical(headBytes))
  if (!headRead.success)
    return { fault: 'Its header does not name Ed25519 (EdDSA) and a key, and nothing else: it was changed or is of another kind.' }
  return { opened: { kid: headRead.data.kid, payload: payloadBytes, signed: utf8(`${head}.${payload}`), signature: signatureBytes } }
}

/** The document whose signature has been checked; null when it is not canonical JSON of a certificate's form. */
export function readPayload(bytes: Uint8Array): CertificatePayload | null {
  const read = certificatePayload.safeParse(parsedCanonical(bytes))
  return read.success ? read.data : null
}

/** A document whose signature has been checked, or what keeps it from being read, in words. */
export function readSigned(bytes: Uint8Array): { document: CertificatePayload } | { fault: string; isLater: boolean } {
  const value = parsedCanonical(bytes)
  if (value === undefined)
    return { fault: 'What was signed is not canonical JSON, so the same words could be spelt in two ways. It is refused.', isLater: false }
  const read = certificatePayload.safeParse(value)
  if (read.success) return { document: read.data }
  const { kind, version } = typeof value === 'object' && value !== null ? (value as { kind?: unknown; version?: unknown }) : {}
  if (kind === 'tagstrip-certificate' && typeof version === 'number' && version > 1)
    return {
      fault: `It is a certificate of version ${version}; this page reads version 1. Take the newest checking page of the house.`,
      isLater: true,
    }
  return { fault: 'What was signed is not a certificate of the form that this page knows.', isLater: false }
}

/** Undefined unless the bytes are UTF-8 and the canonical spelling of the JSON that they hold. */
export function parsedCanonical(bytes: Uint8Array): unknown {
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
