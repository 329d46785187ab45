import type { IncomingMessage, ServerResponse } from 'node:http'
import { Refusal } from '#kernel/refusal'
import { isStaff } from '#kernel/role'
import type { Sight } from '#runtime/queue/turn'
import { noteEvent } from '#runtime/settings/events'
import { type Bodies, type BodyLimit, BodyRefusal } from './bodies'
import { contextFor } from './context'
import { isOurOwn } from './headers'
import type { OpenHouse } from './open-house'
import { REFUSAL_STATUS, refuse } from './refuse'

/** Where a body is read, and whose it is. */
export interface Incoming {
  bodies: Bodies
  address: string
}

interface FileDoor extends Incoming {
  path: '/files/photographs' | '/files/recordings' | '/files/sweeps' | '/files/images'
  limit: BodyLimit
  /** Refuses somebody who is not of the staff. */
  refuseOthers(sight: Sight, personId: string): void
  /** Keeps it on disk, then in a row; answers what is told of it. */
  keep(bytes: Uint8Array, byPersonId: string): Promise<object>
}

/** A file that is sent by itself: the body is all there is. From our own pages alone. */
export async function takeFile(
  house: OpenHouse,
  request: IncomingMessage,
  response: ServerResponse,
  { bodies, address, path, limit, refuseOthers, keep }: FileDoor,
): Promise<void> {
  try {
    if (!isOurOwn(request, house.publicUrl))
      throw new Refusal('not-yours-to-do', `Files are taken from our own pages only, at ${house.publicUrl}.`)
    const { actor } = await contextFor(house, { cookies: request.headers.cookie ?? '', address: '', setCookie: () => {} })
    if (!actor) throw new Refusal('not-signed-in', 'Sign in first; we email you a code.')
    if (!isStaff(actor.role)) refuseOthers(house.sight(), actor.personId)
    const kept = await keep(await bodies.read(request, address, limit), actor.personId)
    response.writeHead(201, { 'content-type': 'application/json; charset=utf-8', 'cache-control': 'no-store' }).end(JSON.stringify(kept))
  } catch (reason) {
    if (!(reason instanceof Refusal)) throw reason
    if (reason.code === 'not-signed-in' || reason.code === 'not-yours-to-do')
      noteEvent(house.log, 'refused', { address, path, code: reason.code })
    refuse(response, reason instanceof BodyRefusal ? reason.status : REFUSAL_STATUS[reason.code], reason.message, reason.fields)
  }
}
