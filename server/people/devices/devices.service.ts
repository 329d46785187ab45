import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { type AddDeviceIn, NO_KEYS, type ShownDevice, tailOf } from './devices.contract'
import * as store from './devices.store'
import { whyNoPushAddress } from './push-address'
import { isOnCurve, pushKeysOf } from './push-keys'

export type { DeviceRow } from './devices.store'

/** More devices than anybody bids with. */
const MOST_DEVICES = 10

/** A browser of somebody's is told from now on; `allowed` is the push service of a test. */
export function addDevice(
  turn: Turn,
  { personId }: Actor,
  { endpoint, p256dh, auth, key }: AddDeviceIn,
  name: string,
  allowed: string | null = null,
): void {
  const why = whyNoPushAddress(endpoint, allowed)
  if (why !== null) throw Refusal.at('endpoint', why)
  if (!isOnCurve(p256dh)) throw Refusal.at('p256dh', NO_KEYS)
  if (key !== pushKeysOf(turn.keys).publicKey)
    throw new Refusal('conflict', 'The house has a new key. Reload the page and switch messages on again.')
  const others = store.listDevicesOf(turn.db, [personId]).filter((one) => one.endpoint !== endpoint)
  if (others.length >= MOST_DEVICES) throw new Refusal('too-many', 'Ten devices are told already. Delete one that you do not use.')
  store.putDevice(turn.db, { id: turn.dice.id(), personId, endpoint, p256dh, auth, key, name, at: turn.now })
}

export function removeDevice(turn: Turn, { personId }: Actor, { id }: { id: string }): void {
  if (!store.deleteDeviceOf(turn.db, personId, id)) throw new Refusal('not-found', 'That device has already been removed. Reload the page.')
}

/** The address that a push service gave is told to nobody, its own browser knows it by its end. */
export const listDevices = (sight: Sight, personId: string): ShownDevice[] =>
  store.listDevicesOf(sight.db, [personId]).map(({ id, name, at, toldAt, endpoint }) => ({ id, name, at, toldAt, tail: tailOf(endpoint) }))

export const devicesOf = (sight: Sight, personIds: readonly string[]) => store.listDevicesOf(sight.db, personIds)
export const hasDevices = (sight: Sight): boolean => store.countDevices(sight.db) > 0

/** A push service said that it is gone for good. */
export const forgetDevice = (turn: Turn, id: string): void => store.deleteDevice(turn.db, id)

/** The house's key was changed: what was made for the one before takes nothing any more. */
export const forgetOfOtherKeys = (turn: Turn): number => store.deleteOfOtherKeys(turn.db, pushKeysOf(turn.keys).publicKey)

export const noteTold = (turn: Turn, id: string): void => store.markTold(turn.db, id, turn.now)
