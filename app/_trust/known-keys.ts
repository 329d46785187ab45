import { type PublicKey, readKeySet } from '#bench/certificates/key-set.rules'

/** The keys of the house as this browser knows them: those published now, and those it saw here before. */

const PLACE = 'tagstrip-keys'

export interface KnownKey extends PublicKey {
  /** By this browser, in milliseconds. */
  firstSeenAt: number
  /** False when the house published it before and no longer does: an earlier key is never taken away. */
  isPublished: boolean
}

export interface KnownKeys {
  keys: KnownKey[]
  /** In words, what is wrong with what the house publishes; null when nothing is. */
  fault: string | null
}

/** Asks for the published set, which comes from this device where there is no connection, and remembers it. */
export async function knownKeys(now: number): Promise<KnownKeys> {
  const before = remembered()
  const published = await fetchKeys()
  if (published === null)
    return {
      keys: before,
      fault: before.length === 0 ? 'The keys of the house could not be fetched. Choose a key set (jwks.json) with the file.' : null,
    }
  if ('fault' in published) return { keys: before, fault: published.fault }
  const seen = (kid: string) => before.find((key) => key.kid === kid)?.firstSeenAt ?? now
  const keys = published.keys.map((key) => ({ ...key, firstSeenAt: seen(key.kid), isPublished: true }))
  const gone = before
    .filter((key) => !keys.some(({ kid }) => kid === key.kid))
    .map((key) => ({ ...key, isNewest: false, isPublished: false }))
  const all = [...gone, ...keys]
  remember(all)
  return {
    keys: all,
    fault:
      gone.length === 0
        ? null
        : 'The house no longer publishes a key that it published before. Ask the maker why before you rely on a newer one.',
  }
}

async function fetchKeys(): Promise<ReturnType<typeof readKeySet> | null> {
  try {
    const answer = await fetch('/.well-known/jwks.json')
    return answer.ok ? readKeySet(await answer.json()) : null
  } catch {
    // No connection, and not kept on this device yet.
    return null
  }
}

function remembered(): KnownKey[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(PLACE) ?? '[]')
    const read = readKeySet({ keys: Array.isArray(kept) ? kept.map((key) => ({ kty: 'OKP', crv: 'Ed25519', ...key })) : [] })
    if ('fault' in read) return []
    return read.keys.map((key, index) => ({
      ...key,
      firstSeenAt: Number((kept as KnownKey[])[index]?.firstSeenAt) || 0,
      isPublished: true,
    }))
  } catch {
    // A browser that keeps nothing, or keeps what is not ours: it then knows what is published now.
    return []
  }
}

function remember(keys: KnownKey[]) {
  try {
    localStorage.setItem(PLACE, JSON.stringify(keys.map(({ kid, x, firstSeenAt }) => ({ kid, x, firstSeenAt }))))
  } catch {
    // A browser that keeps nothing checks all the same.
  }
}
