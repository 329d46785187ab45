import { createHash, timingSafeEqual } from 'node:crypto'
import type { Instant } from '../kernel/instant'
import type { Actor, Sight, Turn } from '../runtime/turn'
import * as store from './air.store'

const KEY_BYTES = 24

const digestOf = (key: string): Buffer => createHash('sha256').update(key).digest()

/** Makes a new key for the overlays; the one before opens nothing any more. It is told this once and kept only as a digest. */
export function changeOverlayKey(turn: Turn, actor: Actor): { key: string } {
  const key = Buffer.from(turn.dice.bytes(KEY_BYTES)).toString('base64url')
  store.replaceDigest(turn.db, { digest: digestOf(key).toString('hex'), madeAt: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'overlay.key-changed', subject: 'overlay', body: { by: actor.personId } })
  return { key }
}

/** When the present key was made; null when there is none. */
export const overlayKeyMadeAt = (sight: Sight): Instant | null => store.readDigest(sight.db)?.madeAt ?? null

export function isOverlayKey(sight: Sight, key: string): boolean {
  const kept = store.readDigest(sight.db)
  return kept !== null && timingSafeEqual(Buffer.from(kept.digest, 'hex'), digestOf(key))
}
