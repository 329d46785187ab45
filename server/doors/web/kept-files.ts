import { statSync } from 'node:fs'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { keepFile, mayAnybodyHave } from '#bench/units/evidence.service'
import { MOST_SWEEP_BYTES, readSweep } from '#bench/units/sweep.rules'
import { decoded } from '#kernel/encoding'
import { Refusal } from '#kernel/refusal'
import { MOST_PHOTOGRAPH_BYTES } from '#runtime/disk/files'
import type { KeptFileKind } from '#runtime/disk/kept-files'
import type { OpenHouse } from './open-house'
import { streamFile } from './stream-file'
import { type Incoming, takeFile } from './take-file'

const LIMITS = {
  csv: { mostBytes: MOST_SWEEP_BYTES, tooLarge: Refusal.at('file', 'A sweep may have 500 kB at most. Save fewer points.', 'too-large') },
  bin: { mostBytes: MOST_PHOTOGRAPH_BYTES, tooLarge: Refusal.at('file', 'An image of firmware may have 15 MB at most.', 'too-large') },
}

/** POST /files/sweeps and /files/images: the body is the file, and kept to the byte. Staff only. A sweep that cannot be drawn is refused in words. */
export const takeKeptFile = (
  house: OpenHouse,
  request: IncomingMessage,
  response: ServerResponse,
  incoming: Incoming,
  kind: KeptFileKind,
): Promise<void> =>
  takeFile(house, request, response, {
    ...incoming,
    path: kind === 'csv' ? '/files/sweeps' : '/files/images',
    limit: LIMITS[kind],
    refuseOthers: () => {
      throw new Refusal('not-yours-to-do', 'Evidence is added by the staff.')
    },
    keep: async (bytes, byPersonId) => {
      const read = kind === 'csv' ? readSweep(decoded(bytes).text) : null
      if (read && !read.ok) throw Refusal.at('file', read.words)
      const kept = await house.keptFiles.keep(bytes, kind)
      await house.queue.run((turn) => keepFile(turn, { ...kept, sweep: read?.sweep ?? null, at: turn.now, byPersonId }))
      return kept
    },
  })

/** GET and HEAD /files/<sha>.csv and .bin: for the staff, and for everybody where the piece was chosen to be shown. A page never opens one. */
export function giveKeptFile(house: OpenHouse, request: IncomingMessage, path: string, response: ServerResponse): boolean {
  const match = /^\/files\/([0-9a-f]{64})\.(csv|bin)$/.exec(path)
  const [, sha = '', kind = ''] = match ?? []
  const file = match && house.keptFiles.find(sha, kind as KeptFileKind)
  if (!file) return false
  if (!mayAnybodyHave(house.sight(), sha) && house.signIn.staffWatch(request.headers.cookie ?? '') === null) return false
  response.writeHead(200, {
    'content-type': kind === 'csv' ? 'text/csv; charset=utf-8' : 'application/octet-stream',
    'content-disposition': `attachment; filename="${sha.slice(0, 16)}.${kind}"`,
    'content-length': statSync(file).size,
    'content-security-policy': "default-src 'none'; sandbox",
    'x-content-type-options': 'nosniff',
    'cache-control': 'private, no-cache',
  })
  streamFile(request, response, file)
  return true
}
