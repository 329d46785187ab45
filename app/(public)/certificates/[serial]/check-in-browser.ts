export interface Checked {
  outcome: 'holds' | 'broken' | 'unable'
  words: string
}

/**
 * Verifies a certificate with the browser's own cryptography against the published key. The rules by which
 * it is opened are the house's own, and come only once somebody asks: they are most of this page's script.
 */
export async function checkInBrowser(serial: string): Promise<Checked> {
  if (!globalThis.crypto?.subtle) {
    return { outcome: 'unable', words: 'Opened over plain HTTP, a browser gives a page no cryptography. Use HTTPS, or the lines below.' }
  }
  try {
    const [signed, jwks, { openSigned, readPayload }] = await Promise.all([
      fetchJson(`/certificates/${serial}.json`),
      fetchJson('/.well-known/jwks.json'),
      import('../../../../server/certificates/jws.rules'),
    ])
    const read = openSigned(signed)
    if ('fault' in read) return { outcome: 'broken', words: read.fault }
    const { kid, payload, signed: bytes, signature } = read.opened
    const jwk = (jwks as { keys: (JsonWebKey & { kid?: string })[] }).keys.find((key) => key.kid === kid)
    if (!jwk) return { outcome: 'broken', words: `It was signed with the key ${kid}, which is not among those published here.` }
    const { kty = '', crv = '', x = '' } = jwk
    const key = await crypto.subtle.importKey('jwk', { kty, crv, x }, { name: 'Ed25519' }, false, ['verify'])
    const holds = await crypto.subtle.verify({ name: 'Ed25519' }, key, new Uint8Array(signature), new Uint8Array(bytes))
    if (!holds) return { outcome: 'broken', words: 'What is stored is not what was signed. Do not rely on it, and tell the maker.' }
    const document = readPayload(payload)
    if (!document) return { outcome: 'broken', words: 'What was signed is not a certificate of this form.' }
    if (document.serial !== serial) return { outcome: 'broken', words: `It is signed, but it is ${document.serial} and not ${serial}.` }
    const { item, results, issuedAt } = document
    return {
      outcome: 'holds',
      words: `${results.length} readings of ${item.tag}, issued ${issuedAt.slice(0, 10)}, are unchanged since they were signed with the key ${kid}.`,
    }
  } catch (reason) {
    if (reason instanceof DOMException && (reason.name === 'NotSupportedError' || reason.name === 'SyntaxError')) {
      return { outcome: 'unable', words: 'It does not know Ed25519 yet. A newer one does, and so do the lines below.' }
    }
    if (reason instanceof TypeError) return { outcome: 'unable', words: 'The signed record or the key could not be fetched. Try again.' }
    throw reason
  }
}

async function fetchJson(path: string): Promise<unknown> {
  const response = await fetch(path)
  if (!response.ok) throw new TypeError(`${path} answered ${response.status}`)
  return response.json()
}
