import { statSync } from 'node:fs'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { hasContacts } from '#end/packs/packs.service'
import { mustBeConfirmed } from '#runtime/call/base'
import type { OpenHouse } from './open-house'
import { streamFile } from './stream-file'

const WHOSE: readonly string[] = ['maker', 'treasurer']

/** GET /bench/close-out/packs/<name>.zip, for those who keep the books, as a stream. False where there is none that they may have. */
export async function givePack(house: OpenHouse, request: IncomingMessage, path: string, response: ServerResponse): Promise<boolean> {
  const name = /^\/bench\/close-out\/packs\/([\w-]+\.zip)$/.exec(path)?.[1]
  const known = name === undefined ? null : house.signIn.sessionOf(request.headers.cookie ?? '')
  const file = name !== undefined && known && WHOSE.includes(known.actor.role) ? house.packer.find(name) : null
  if (!file || name === undefined) return false
  if (hasContacts(house.sight(), name)) mustBeConfirmed({ session: known?.session ?? null })
  response.writeHead(200, {
    'content-type': 'application/zip',
    'content-length': statSync(file).size,
    'content-disposition': `attachment; filename="${name}"`,
    'cache-control': 'private, no-store',
  })
  streamFile(request, response, file)
  return true
}
