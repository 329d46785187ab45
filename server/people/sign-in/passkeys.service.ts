import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { noteChange } from '../changes/changes.service'
import type { OwnPasskey } from './passkeys.contract'
import * as store from './passkeys.store'

/** More than anybody carries; without an end the list that a device is shown would have none. */
const MOST_PASSKEYS = 20

export const listPasskeys = (sight: Sight, { personId }: Actor): OwnPasskey[] =>
  store
    .listPasskeyRows(sight.db, personId)
    .map(({ id, name, createdAt, backedUp }) => ({ id, name, madeAt: createdAt.getTime(), isBackedUp: backedUp }))

export function mustHaveRoomForPasskey(sight: Sight, actor: Actor): void {
  if (listPasskeys(sight, actor).length >= MOST_PASSKEYS)
    throw new Refusal('too-many', `You have ${MOST_PASSKEYS} passkeys here. First remove one that you no longer use.`)
}

export function namePasskey(turn: Turn, { personId }: Actor, { id, name }: { id: string; name: string }): void {
  if (store.updatePasskey(turn.db, personId, id, { name }) === 0) throw gone()
}

/** The device keeps its half, which opens nothing here any more. */
export function removePasskey(turn: Turn, actor: Actor, { id }: { id: string }): void {
  const name = listPasskeys(turn, actor).find((one) => one.id === id)?.name ?? ''
  if (store.deletePasskey(turn.db, actor.personId, id) === 0) throw gone()
  noteChange(turn, actor, { kind: 'key', what: `a passkey of ${actor.name}`, before: name, after: '' })
}

/** Called once the sign-in library has kept it. */
export const notePasskey = (turn: Turn, actor: Actor, name: string): void =>
  noteChange(turn, actor, { kind: 'key', what: `a passkey of ${actor.name}`, before: '', after: name })

const gone = () => new Refusal('not-found', 'That passkey has already been removed.')
