import { createHmac, timingSafeEqual } from 'node:crypto'

/**
 * What opens a rehearsal to one person, and to nobody as anybody else: who they are in the house, sealed with the key of the
 * rehearsal, which no browser ever sees.
 */
export const passFor = (key: string, personId: string): string => `${personId}.${seal(key, personId)}`

/** Where they step in. What stands behind the # is seen by no log. */
export const addressFor = ({ url, key }: { url: string; key: string }, personId: string): string =>
  `${url}/rehearsal#${passFor(key, personId)}`

/** Whose pass it is; null for what this rehearsal never gave. */
export function holderOf(key: string, pass: string): string | null {
  const [personId, sealed, ...rest] = pass.split('.')
  if (!personId || !sealed || rest.length > 0) return null
  const [given, right] = [Buffer.from(sealed), Buffer.from(seal(key, personId))]
  return given.length === right.length && timingSafeEqual(given, right) ? personId : null
}

const seal = (key: string, personId: string): string => createHmac('sha256', key).update(personId).digest('base64url')
