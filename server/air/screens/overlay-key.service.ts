import { createHash, timingSafeEqual } from 'node:crypto'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { noteChange } from '#people/changes/changes.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import * as store from './air.store'

const digestOf = (key: string): Buffer => createHash('sha256').update(key).digest()

/** What only this house can make of the instant at which a key was made: the database keeps no key, and the staff can be told it again. */
const keyMadeAt = (sight: Sight, at: Instant): string => Buffer.from(sight.keys.seal(`overlay key of ${at}`)).toString('base64url')

/** Makes a new key for the overlays; the one before opens nothing any more. */
export function changeOverlayKey(turn: Turn, actor: Actor): { key: string } {
  // Two in one millisecond would be the same key.
  const madeAt = Math.max(turn.now, (store.readDigest(turn.db)?.madeAt ?? 0) + 1)
  const key = keyMadeAt(turn, madeAt)
  store.replaceDigest(turn.db, { digest: digestOf(key).toString('hex'), madeAt, byPersonId: actor.personId })
  noteChange(turn, actor, { kind: 'key', what: 'the key of the overlays', before: '', after: '' })
  turn.record({ kind: 'overlay.key-changed', subject: 'overlay', body: { by: actor.personId } })
  return { key }
}

/** When the present key was made; null when there is none. */
export const overlayKeyMadeAt = (sight: Sight): Instant | null => store.readDigest(sight.db)?.madeAt ?? null

/** The present key, for the staff; null when there is none or another house made it. */
export function findOverlayKey(sight: Sight): string | null {
  const kept = store.readDigest(sight.db)
  if (!kept) return null
  const key = keyMadeAt(sight, kept.madeAt)
  return isOverlayKey(sight, key) ? key : null
}

export function isOverlayKey(sight: Sight, key: string): boolean {
  const kept = store.readDigest(sight.db)
  return kept !== null && timingSafeEqual(Buffer.from(kept.digest, 'hex'), digestOf(key))
}

const ON_AIR = ['host', 'maker']

/** An overlay is seen with its key, or by the staff on air in their own preview. */
export const maySeeOverlays = (sight: Sight, { key }: { key: string }, actor: Actor | null): boolean =>
  isOverlayKey(sight, key) || ON_AIR.includes(actor?.role ?? '')

export function refuseWithoutKey(sight: Sight, input: { key: string }, actor: Actor | null): void {
  if (!maySeeOverlays(sight, input, actor))
    throw new Refusal('not-yours-to-do', 'This overlay opens with its key. The overlays page has the address that includes it.')
}
