/** Under which names the machines of one house find each other on a NATS that others may use as well. */
export interface HouseNames {
  /** Everything that this house sends begins with it, so that a permission can be given for `tagstrip.<id>.>`. */
  prefix: string
  /** The stream of what was committed, in order, and the subject of its messages. */
  stream: string
  groups: string
  /** The key-value bucket that says which machine is the one that writes. */
  bucket: string
}

/**
 * A house is known by the fingerprint of its first key, which is public and stays when keys are rotated. It is base64url, and so may
 * stand in the name of a subject, a stream and a bucket.
 */
export function houseNames(jwks: { keys: readonly Record<string, string>[] }): HouseNames {
  const id = jwks.keys[0]?.kid
  if (id === undefined) throw new Error('A house without a key has no name.')
  const prefix = `tagstrip.${id}`
  return { prefix, stream: `tagstrip-${id}`, groups: `${prefix}.groups`, bucket: `tagstrip-${id}` }
}
