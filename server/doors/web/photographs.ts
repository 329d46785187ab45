import { createReadStream } from 'node:fs'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { photograph } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import { isStaff } from '#kernel/role'
import { MOST_PHOTOGRAPH_BYTES } from '#runtime/disk/files'
import { contextFor } from './context'
import { isOurOwn } from './headers'
import type { OpenHouse } from './open-house'

const tell = (response: ServerResponse, status: number, body: object) => {
  response.writeHead(status, { 'content-type': 'application/json; charset=utf-8', 'cache-control': 'no-store' }).end(JSON.stringify(body))
}

/** POST /files/photographs: the body is the picture. Staff only; kept on disk before the row that names it. */
export async function takePhotograph(house: OpenHouse, request: IncomingMessage, response: ServerResponse): Promise<void> {
  try {
    if (!isOurOwn(request, house.publicUrl)) throw new Refusal('not-yours-to-do', 'Photographs are taken from our own pages only.')
    const { actor } = await contextFor(house, { cookies: request.headers.cookie ?? '', address: '', setCookie: () => {} })
    if (!actor) throw new Refusal('not-signed-in', 'Sign in first; a code comes by mail.')
    if (!isStaff(actor.role)) throw new Refusal('not-yours-to-do', 'Photographs are added by the staff.')
    const kept = await house.photographs.keep(await readBody(request))
    await house.queue.run((turn) =>
      turn.db
        .insert(photograph)
        .values({ ...kept, at: turn.now, byPersonId: actor.personId })
        .onConflictDoNothing()
        .run(),
    )
    tell(response, 201, kept)
  } catch (reason) {
    if (!(reason instanceof Refusal)) throw reason
    const status = reason.code === 'not-signed-in' ? 401 : reason.code === 'not-yours-to-do' ? 403 : reason.code === 'too-large' ? 413 : 400
    tell(response, status, { words: reason.message, fields: reason.fields })
  }
}

async function readBody(request: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = []
  let size = 0
  for await (const part of request) {
    size += (part as Buffer).byteLength
    // Read to its end all the same, so that the answer reaches a browser that is still sending.
    if (size <= MOST_PHOTOGRAPH_BYTES) parts.push(part as Buffer)
  }
  if (size > MOST_PHOTOGRAPH_BYTES) throw Refusal.at('photograph', 'A photograph may have 15 MB at most. Take a smaller one.', 'too-large')
  return Buffer.concat(parts)
}

/** GET /files/<sha>-<width>.webp; named by content, so it may be kept for ever. */
export function showPhotograph(house: OpenHouse, path: string, response: ServerResponse): boolean {
  const match = /^\/files\/([0-9a-f]{64})-(\d+)\.webp$/.exec(path)
  const file = match?.[1] && match[2] ? house.photographs.find(match[1], Number(match[2])) : null
  if (!file) return false
  response.writeHead(200, { 'content-type': 'image/webp', 'cache-control': 'public, max-age=31536000, immutable' })
  createReadStream(file)
    .on('error', () => response.destroy())
    .pipe(response)
  return true
}
