import type { SignedCheck } from '#bench/certificates/check.rules'

export type Checked = Pick<SignedCheck, 'outcome' | 'words'>

/** Fetches the signed record and the published keys, and checks one with the other here. The rules come only once somebody asks: they are most of this page's script. */
export async function checkInBrowser(serial: string): Promise<Checked> {
  try {
    const [signed, jwks, { checkSigned }, { readKeySet }, { verifyEd25519 }] = await Promise.all([
      fetchJson(`/certificates/${serial}.json`),
      fetchJson('/.well-known/jwks.json'),
      import('#bench/certificates/check.rules'),
      import('#bench/certificates/key-set.rules'),
      import('#app/_trust/ed25519.ts'),
    ])
    const set = readKeySet(jwks)
    if ('fault' in set) return { outcome: 'broken', words: set.fault }
    const check = await checkSigned(signed, set.keys, verifyEd25519)
    if (check.outcome === 'holds' && check.document.serial !== serial)
      return { outcome: 'broken', words: `It is signed, but it is ${check.document.serial} and not ${serial}.` }
    return check
  } catch (reason) {
    if (reason instanceof TypeError) return { outcome: 'unable', words: 'The signed record or the key could not be fetched. Try again.' }
    throw reason
  }
}

async function fetchJson(path: string): Promise<unknown> {
  const response = await fetch(path)
  if (!response.ok) throw new TypeError(`${path} answered ${response.status}`)
  return response.json()
}
